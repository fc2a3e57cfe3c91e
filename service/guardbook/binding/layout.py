"""Places that cannot be right together: two pieces in one layer, a piece beyond the plane it lies on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from types import MappingProxyType
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.contradictions import Contradiction, told
from guardbook.binding.dossier import Dossier
from guardbook.binding.expected_traces import FOLD_MM, FOLDS
from guardbook.binding.host_states import HostState, InPlace
from guardbook.binding.outlines import Shape
from guardbook.binding.plane_phrases import edge_towards
from guardbook.binding.planes import PlaneName, plane_name
from guardbook.binding.traces import traces_on
from guardbook.records.alteration import Alteration
from guardbook.records.placing import Position
from guardbook.wording import decimal

# How far a place may be out, in mm, by how it came to be known; one that was only inferred proves nothing.
# Common practice, no published source.
TOLERANCE_MM: MappingProxyType[str, float] = MappingProxyType(
    {"measured": 1.0, "from-photograph": 2.0, "from-traces": 5.0}
)
_EDGES = ("left", "bottom", "right", "top")


class _Laid(NamedTuple):
    place: InPlace
    position: Position
    plane: PlaneName
    outline: BaseGeometry
    tolerance_mm: float


def layout_clashes(
    states: Iterable[HostState], dossier: Dossier, piece: str | None = None
) -> tuple[Contradiction, ...]:
    """Tell each overlap on one layer and each reach beyond a plane once, at the first stage that has it.

    With a `piece`, only what it is part of. Nothing where events are withheld: a piece may have been gone.
    """
    if dossier.withheld:
        return ()
    found: dict[tuple[str, frozenset[str]], Contradiction] = {}
    for state in states:
        laid = _near(list(_laid(state)), piece)
        for clash in (*_overlaps(laid, dossier), *_beyond(laid, dossier)):
            found.setdefault((clash.kind, frozenset(clash.about)), clash)
    return tuple(found.values())


def outline_clashes(dossier: Dossier, pieces: Iterable[str]) -> tuple[Contradiction, ...]:
    """Tell of pieces whose drawn outline bounds no area, in their records or by an alteration."""
    return tuple(told("outline-unusable", dossier, piece=iri) for iri in pieces if _is_unusable(dossier, iri))


def _is_unusable(dossier: Dossier, iri: str) -> bool:
    piece = dossier.piece(iri)
    altered = [event.outline for event in dossier.events_of_piece(iri) if isinstance(event, Alteration)]
    outlines = [*([piece.outline] if piece else []), *altered]
    return any(Shape(outline=outline).unusable for outline in outlines)


def _laid(state: HostState) -> Iterator[_Laid]:
    for place in state.pieces:
        for position in place.lying.positions:
            plane = plane_name(position)
            tolerance = TOLERANCE_MM.get(position.certainty or "")
            outline = place.lying.outline(position)
            if plane and plane.is_one and tolerance is not None and outline is not None:
                yield _Laid(place, position, plane, outline, tolerance)


def _near(laid: list[_Laid], piece: str | None) -> list[_Laid]:
    """Leave out what cannot clash with a piece, since it lies on no plane and layer with it."""
    if piece is None:
        return laid
    own = {(one.plane, one.position.layer) for one in laid if one.place.stay.piece == piece}
    return [one for one in laid if (one.plane, one.position.layer) in own]


def _overlaps(laid: list[_Laid], dossier: Dossier) -> Iterator[Contradiction]:
    by_layer: dict[tuple[PlaneName, int], list[_Laid]] = defaultdict(list)
    for one in laid:
        if one.position.layer is not None:
            by_layer[one.plane, one.position.layer].append(one)
    for together in by_layer.values():
        for one, two in _touching(together):
            shared = one.outline.intersection(two.outline)
            if _fits(one.tolerance_mm + two.tolerance_mm, shared):
                yield _overlap(one, two, shared, dossier)


def _touching(laid: list[_Laid]) -> Iterator[tuple[_Laid, _Laid]]:
    outlines = [one.outline for one in laid]
    first, second = shapely.STRtree(outlines).query(outlines, predicate="intersects")
    for one, two in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if one < two and laid[one].place.stay.piece != laid[two].place.stay.piece:
            yield laid[one], laid[two]


def _fits(diameter: float, shared: BaseGeometry) -> bool:
    """Say whether a disc as wide as both tolerances together fits into an overlap, so that it counts."""
    left, bottom, right, top = shared.bounds
    if not min(right - left, top - bottom) >= diameter:
        return False
    return not shared.buffer(-diameter / 2).is_empty


def _overlap(one: _Laid, two: _Laid, shared: BaseGeometry, dossier: Dossier) -> Contradiction:
    left, bottom, right, top = shared.bounds
    return told(
        "overlap-on-one-layer",
        dossier,
        piece=one.place.stay.piece,
        other=two.place.stay.piece,
        host=one.place.stay.host,
        first=one.place.stay.placing,
        second=two.place.stay.placing,
        layer=str(one.position.layer),
        plane=one.plane.phrase,
        size=decimal(f"{right - left:.1f} x {top - bottom:.1f} mm"),
    )


def _beyond(laid: list[_Laid], dossier: Dossier) -> Iterator[Contradiction]:
    for one in laid:
        # a piece that folds over an edge is told of by several positions, and reaches beyond each plane
        if len(one.place.lying.positions) == 1 and not one.place.stay.said("folded"):
            yield from _past_edges(one, dossier)


def _past_edges(one: _Laid, dossier: Dossier) -> Iterator[Contradiction]:
    limits = _limits(dossier, one.place.stay.host, one.plane)
    for edge, reaches, sign in zip(_EDGES, one.outline.bounds, (-1, -1, 1, 1), strict=True):
        limit = limits.get(edge)
        beyond = 0.0 if limit is None else (reaches - limit) * sign
        if limit is not None and beyond > one.tolerance_mm and not _folds_at(one, dossier, edge, limit):
            yield told(
                "beyond-the-plane",
                dossier,
                piece=one.place.stay.piece,
                host=one.place.stay.host,
                first=one.place.stay.placing,
                size=decimal(f"{beyond:.1f} mm"),
                edge=_edge_words(edge, one.plane),
                plane=one.plane.phrase,
            )


def _folds_at(one: _Laid, dossier: Dossier, edge: str, limit: float) -> bool:
    """Say whether a fold is recorded on the piece along that edge of its plane: there it was folded over."""
    piece, way = dossier.piece(one.place.stay.piece), one.place.lying.shape.mapping(one.position)
    if piece is None or way is None:
        return False
    axis = 0 if edge in {"left", "right"} else 1
    return any(
        len(trace.points) == 2 and all(abs(point[axis] - limit) <= FOLD_MM for point in trace.points)
        for trace in traces_on(piece, way, front_towards_viewer=None)
        if trace.kind in FOLDS
    )


def _edge_words(edge: str, plane: PlaneName) -> str:
    axes = plane.axes
    sides = {"left": axes.x_away, "right": axes.x_towards, "bottom": "the tail", "top": axes.y_towards}
    return edge_towards(sides[edge])


def _limits(dossier: Dossier, host: str, plane: PlaneName) -> dict[str, float]:
    """Give the stated edges of a plane, or those of the plane on its back as they fall here."""
    record = dossier.host(host)
    stated = {plane_name(part): part for part in record.planes} if record else {}
    if part := stated.get(plane):
        return {edge: float(value) for edge in _EDGES if (value := getattr(part, edge)) is not None}
    back = plane.other_face
    part = stated.get(back.plane) if back else None
    if back is None or part is None:
        return {}
    turned = back.way.a < 0
    names = ("right", "bottom", "left", "top") if turned else _EDGES
    values = {edge: getattr(part, name) for edge, name in zip(_EDGES, names, strict=True)}
    return {
        edge: -float(value) if turned and edge in {"left", "right"} else float(value)
        for edge, value in values.items()
        if value is not None
    }
