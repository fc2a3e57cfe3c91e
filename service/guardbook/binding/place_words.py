"""How a piece lay, in the words a conservator would write."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from types import MappingProxyType

from guardbook.binding.planes import PlaneName, plane_name
from guardbook.binding.stays import Lying, Stay
from guardbook.records import terms
from guardbook.records.placing import Position

CENTRED_WITHIN_MM = 1.0

_AREAS: MappingProxyType[str, str] = MappingProxyType(
    {
        "side": "{} side",
        "host_face": "{}",
        "edge": "at the {}",
        "panel": "in panel {}",
        "gathering": "at gathering {}",
        "leaf": "at leaf {}",
        "leaf_side": "{}",
    }
)
_EDGES: MappingProxyType[object, str] = MappingProxyType({"spine": "spine edge"})
# the plane says already which face of the cover or board it is
_FACE_TOLD = ("cover-", "board-")
_WAY_ROUND: MappingProxyType[Decimal, str] = MappingProxyType(
    {
        Decimal(0): "writing upright",
        Decimal(90): "writing reading upwards",
        Decimal(180): "writing upside down",
        Decimal(270): "writing reading downwards",
    }
)
_CERTAINTY: MappingProxyType[str | None, str] = MappingProxyType(
    {
        "measured": "measured",
        "from-photograph": "measured from a photograph",
        "from-traces": "worked out from traces",
        "inferred": "inferred, not measured",
        "unknown": "how this is known is not recorded",
        None: "how well this is known is not said",
    }
)


def place_words(position: Position, lying: Lying, writing_angle: Decimal | None = None) -> str:
    """Say where a position is: plane and area, distances in mm, way round, layer, what is seen of it.

    A turn that the angle of the writing tells already is not told twice.
    """
    plane = plane_name(position)
    said = [_where(position, plane), *_distances(position, lying, plane)]
    if position.rotation and position.rotation % 360 and position.rotation != writing_angle:
        said.append(f"turned {_number(position.rotation)}° anticlockwise")
    if position.mirrored:
        said.append("front face turned away")
    if position.layer is not None:
        said.append(f"layer {position.layer}")
    if position.visible_in_place:
        said.append(terms.label("visibility-in-place", position.visible_in_place))
    return ", ".join(said)


def certainty_words(position: Position) -> str:
    """Say how well a position is known."""
    return _CERTAINTY.get(position.certainty) or terms.label("certainty", position.certainty or "")


def way_round_words(stay: Stay) -> list[str]:
    """Say which face looked outwards, how the writing stood, and how the piece was folded."""
    said = []
    if face := stay.said("outward_face"):
        known = f"{terms.label('piece-face', face)} outwards"
        said.append("which face looked outwards is not known" if face == "unknown" else known)
    if (angle := stay.said("writing_angle")) is not None:
        turned = f"writing turned {_number(angle)}° anticlockwise"
        said.append(_WAY_ROUND.get(angle % 360, turned))
    if folded := stay.said("folded"):
        said.append(f"folding: {_without_stop(folded)}")
    return said


def fixing_words(stay: Stay) -> str:
    """Say how the piece was held."""
    fixings = [terms.label("fixing", slug) for slug in stay.said("fixings") or ()]
    said = " and ".join(fixings) or "how it was held is not recorded"
    note = stay.said("fixing_note")
    return f"{said} ({_without_stop(note)})" if note else said


def _without_stop(note: str) -> str:
    """Fit a note that may be a sentence of its own into one."""
    return note.strip().removesuffix(".")


def _where(position: Position, plane: PlaneName | None) -> str:
    told = set(plane.axes.named_by) if plane and plane.is_one else set()
    if plane and plane.plane.startswith(_FACE_TOLD):
        told.add("host_face")
    values = {name: getattr(position, name) for name in _AREAS if name not in told}
    areas = [
        _AREAS[name].format(_EDGES.get(value, value)) for name, value in values.items() if value is not None
    ]
    if plane is None and not areas:
        return "in a place that is not described"
    return ", ".join([*([plane.phrase] if plane else []), *areas])


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
        yield f"{_number(x)} mm from {plane.axes.x_zero}"


def _of_origin(position: Position, plane: PlaneName | None) -> Iterator[str]:
    """Say where the origin falls, for a piece without outline or size."""
    zero = plane.axes.x_zero if plane else "the zero of x"
    if position.y is not None:
        yield f"its tail-left corner {_from_tail(position.y)}"
    if position.x is not None:
        yield f"{_number(position.x)} mm from {zero}"


def _from_tail(y: Decimal) -> str:
    return f"{_number(y)} mm from the tail" if y >= 0 else f"{_number(-y)} mm below the tail"


def _across(left: float, right: float, plane: PlaneName) -> str:
    axes = plane.axes
    if abs(left + right) <= 2 * CENTRED_WITHIN_MM:
        return f"centred on {axes.x_zero.removeprefix('the centre of ')}"
    if left >= 0:
        return f"{left:.1f} to {right:.1f} mm from {axes.x_zero} towards {axes.x_towards}"
    if right <= 0:
        return f"{-right:.1f} to {-left:.1f} mm from {axes.x_zero} towards {axes.x_away}"
    return f"reaching {-left:.1f} mm towards {axes.x_away} and {right:.1f} mm towards {axes.x_towards}"


def _rounded(value: float) -> Decimal:
    return Decimal(value).quantize(Decimal("0.1"))


def _number(value: Decimal) -> str:
    return format(value, "f")
