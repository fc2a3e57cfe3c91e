"""How a piece lay, in the words a conservator would write."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from types import MappingProxyType

from guardbook.binding.plane_phrases import centred_on, from_zero, towards
from guardbook.binding.planes import PlaneName, plane_name
from guardbook.binding.stays import Lying, Stay
from guardbook.records import terms
from guardbook.records.placing import Position
from guardbook.wording import _, decimal, said_later

CENTRED_WITHIN_MM = 1.0

_SIDES = {"upper": said_later("upper side"), "lower": said_later("lower side")}
_EDGES = {
    "head": said_later("at the head"),
    "tail": said_later("at the tail"),
    "spine": said_later("at the spine edge"),
    "fore-edge": said_later("at the fore-edge"),
}
# the plane says already which face of the cover or board it is
_FACE_TOLD = ("cover-", "board-")
_WAY_ROUND: MappingProxyType[Decimal, str] = MappingProxyType(
    {
        Decimal(0): said_later("writing upright"),
        Decimal(90): said_later("writing reading upwards"),
        Decimal(180): said_later("writing upside down"),
        Decimal(270): said_later("writing reading downwards"),
    }
)
_CERTAINTY: MappingProxyType[str | None, str] = MappingProxyType(
    {
        "measured": said_later("measured"),
        "from-photograph": said_later("measured from a photograph"),
        "from-traces": said_later("worked out from traces"),
        "inferred": said_later("inferred, not measured"),
        "unknown": said_later("how this is known is not recorded"),
        None: said_later("how well this is known is not said"),
    }
)


def place_words(position: Position, lying: Lying, writing_angle: Decimal | None = None) -> str:
    """Say where a position is: plane and area, distances in mm, way round, layer, what is seen of it.

    A turn that the angle of the writing tells already is not told twice.
    """
    plane = plane_name(position)
    said = [_where(position, plane), *_distances(position, lying, plane)]
    if position.rotation and position.rotation % 360 and position.rotation != writing_angle:
        said.append(_("turned {angle}° anticlockwise").format(angle=_number(position.rotation)))
    if position.mirrored:
        said.append(_("front face turned away"))
    if position.layer is not None:
        said.append(_("layer {number}").format(number=position.layer))
    if position.visible_in_place:
        said.append(terms.label("visibility-in-place", position.visible_in_place))
    return ", ".join(said)


def certainty_words(position: Position) -> str:
    """Say how well a position is known."""
    said = _CERTAINTY.get(position.certainty)
    return _(said) if said else terms.label("certainty", position.certainty or "")


def way_round_words(stay: Stay) -> list[str]:
    """Say which face looked outwards, how the writing stood, and how the piece was folded."""
    said = []
    if face := stay.said("outward_face"):
        known = _("{face} outwards").format(face=terms.label("piece-face", face))
        said.append(_("which face looked outwards is not known") if face == "unknown" else known)
    if (angle := stay.said("writing_angle")) is not None:
        known_way = _WAY_ROUND.get(angle % 360)
        turned = _("writing turned {angle}° anticlockwise").format(angle=_number(angle))
        said.append(_(known_way) if known_way else turned)
    if folded := stay.said("folded"):
        said.append(_("folding: {how}").format(how=_without_stop(folded)))
    return said


def fixing_words(stay: Stay) -> str:
    """Say how the piece was held."""
    fixings = [terms.label("fixing", slug) for slug in stay.said("fixings") or ()]
    said = _(" and ").join(fixings) or _("how it was held is not recorded")
    note = stay.said("fixing_note")
    return f"{said} ({_without_stop(note)})" if note else said


def _without_stop(note: str) -> str:
    """Fit a note that may be a sentence of its own into one."""
    return note.strip().removesuffix(".")


def _where(position: Position, plane: PlaneName | None) -> str:
    told = set(plane.axes.named_by) if plane and plane.is_one else set()
    if plane and plane.plane.startswith(_FACE_TOLD):
        told.add("host_face")
    areas = [words for name, words in _areas(position) if name not in told]
    if plane is None and not areas:
        return _("in a place that is not described")
    return ", ".join([*([plane.phrase] if plane else []), *areas])


def _areas(position: Position) -> Iterator[tuple[str, str]]:
    """Name the areas of a position by its fields."""
    if position.side is not None:
        yield "side", _(_SIDES.get(position.side, position.side))
    if position.host_face is not None:
        yield "host_face", terms.label("face", position.host_face)
    if position.edge is not None:
        yield "edge", _(_EDGES.get(position.edge, position.edge))
    if position.panel is not None:
        yield "panel", _("in panel {number}").format(number=position.panel)
    if position.gathering is not None:
        yield "gathering", _("at gathering {number}").format(number=position.gathering)
    if position.leaf is not None:
        yield "leaf", _("at leaf {number}").format(number=position.leaf)
    if position.leaf_side is not None:
        yield "leaf_side", terms.label("leaf-side", position.leaf_side)


def _distances(position: Position, lying: Lying, plane: PlaneName | None) -> Iterator[str]:
    if position.x is None and position.y is None:
        return
    outline = lying.outline(position) if plane else None
    if plane is None or outline is None:
        yield from _of_origin(position, plane)
        return
    left, bottom, right, _ = outline.bounds
    as_written = not (position.rotation or 0) % 360 and lying.shape.starts_at_its_origin
    yield _from_tail(position.y if as_written and position.y is not None else _rounded(bottom))
    if plane.axes.centred:
        yield _across(left, right, plane)
    else:
        x = position.x if as_written and position.x is not None else _rounded(left)
        yield _at(x, plane)


def _at(x: Decimal, plane: PlaneName) -> str:
    return _("{length} mm {from_zero}").format(length=_number(x), from_zero=from_zero(plane.axes.x_zero))


def _of_origin(position: Position, plane: PlaneName | None) -> Iterator[str]:
    """Say where the origin falls, for a piece without outline or size."""
    if position.y is not None:
        yield _("its tail-left corner {distance}").format(distance=_from_tail(position.y))
    if position.x is not None and plane is not None:
        yield _at(position.x, plane)
    elif position.x is not None:
        yield _("{length} mm from the zero of x").format(length=_number(position.x))


def _from_tail(y: Decimal) -> str:
    if y >= 0:
        return _("{length} mm from the tail").format(length=_number(y))
    return _("{length} mm below the tail").format(length=_number(-y))


def _across(left: float, right: float, plane: PlaneName) -> str:
    axes = plane.axes
    if abs(left + right) <= 2 * CENTRED_WITHIN_MM:
        return centred_on(axes.x_zero)
    if left < 0 < right:
        return _("reaching {left} mm {away} and {right} mm {towards}").format(
            left=decimal(f"{-left:.1f}"),
            away=towards(axes.x_away),
            right=decimal(f"{right:.1f}"),
            towards=towards(axes.x_towards),
        )
    near, far = sorted((abs(left), abs(right)))
    return _("{near} to {far} mm {from_zero} {towards}").format(
        near=decimal(f"{near:.1f}"),
        far=decimal(f"{far:.1f}"),
        from_zero=from_zero(axes.x_zero),
        towards=towards(axes.x_towards if left >= 0 else axes.x_away),
    )


def _rounded(value: float) -> Decimal:
    return Decimal(value).quantize(Decimal("0.1"))


def _number(value: Decimal) -> str:
    return decimal(format(value, "f"))
