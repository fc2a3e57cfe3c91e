"""Signs in the edges of a piece: straight within a fraction of a millimetre, or irregular."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, dist

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.outlines import shape_of
from guardbook.evidence.signs import Sign, not_seen, seen, unknown
from guardbook.evidence.subjects import Piece
from guardbook.wording import _, decimal, decimals

Point = tuple[float, ...]
# where the outline turns by more than this, one edge ends and the next begins
CORNER_DEGREES = 35.0
# a recorded edge whose ends lie this near to a drawn one is that edge
ALONG_MM = 5.0
_KINDS = frozenset({"cut-edge", "torn-edge", "original-edge"})


@dataclass(frozen=True)
class Edge:
    """One edge of an outline, from corner to corner, and how far it strays from the straight line, in mm."""

    points: tuple[Point, ...]
    strays_mm: float

    @property
    def length_mm(self) -> float:
        """Give the distance between its ends."""
        return dist(self.points[0], self.points[-1])


def edge_straight(piece: Piece, within_mm: float, least_mm: float, least_points: int) -> Sign:
    """See whether an edge is straight within so much over a length of at least `least_mm`.

    One that is recorded as torn or as it was made is none that could have been cut.
    """
    edges = _measured(piece, least_mm, least_points)
    if not edges:
        return unknown(_draw())
    straight = [edge for edge in edges if edge.strays_mm <= within_mm]
    found = _unless(piece, straight, "cut-edge")
    if not straight:
        return not_seen(_("no measured edge is straight: each strays {strays}").format(strays=_strays(edges)))
    if not found:
        return not_seen(_("every straight edge is recorded as torn or as it was made"))
    told = _("an edge {length} mm long is straight within {strays} mm")
    return seen("; ".join(told.format(length=f"{one.length_mm:.0f}", strays=_shown(one)) for one in found))


def edge_irregular(piece: Piece, beyond_mm: float, least_mm: float, least_points: int) -> Sign:
    """See whether an edge strays from the straight by more than so much.

    One that is recorded as cut or as it was made is none that could have been torn.
    """
    edges = _measured(piece, least_mm, least_points)
    if not edges:
        return unknown(_draw())
    irregular = [edge for edge in edges if edge.strays_mm > beyond_mm]
    found = _unless(piece, irregular, "torn-edge")
    if not irregular:
        told = _("no measured edge is irregular: each is straight within {strays}")
        return not_seen(told.format(strays=_strays(edges)))
    if not found:
        return not_seen(_("every irregular edge is recorded as cut or as it was made"))
    told = _("an edge {length} mm long is irregular by {strays} mm")
    return seen("; ".join(told.format(length=f"{one.length_mm:.0f}", strays=_shown(one)) for one in found))


def straight_edge_not_cut(piece: Piece, within_mm: float, least_mm: float, least_points: int) -> Sign:
    """See whether no straight edge is one of those recorded as cut."""
    straight = [e for e in _measured(piece, least_mm, least_points) if e.strays_mm <= within_mm]
    if any("cut-edge" in _recorded(piece, edge) for edge in straight):
        return not_seen(_("a straight edge is recorded as a cut edge"))
    return unknown(_("nothing is recorded of what kind of edge it is"))


def irregular_edge_not_torn(piece: Piece, beyond_mm: float, least_mm: float, least_points: int) -> Sign:
    """See whether no irregular edge is one of those recorded as torn."""
    irregular = [e for e in _measured(piece, least_mm, least_points) if e.strays_mm > beyond_mm]
    if any("torn-edge" in _recorded(piece, edge) for edge in irregular):
        return not_seen(_("an irregular edge is recorded as a torn edge"))
    return unknown(_("nothing is recorded of what kind of edge it is"))


def _unless(piece: Piece, edges: list[Edge], kind: str) -> list[Edge]:
    """Give the edges recorded as of a kind, or else those of which nothing is recorded."""
    recorded = [(edge, _recorded(piece, edge)) for edge in edges]
    named = [edge for edge, kinds in recorded if kind in kinds]
    return named or [edge for edge, kinds in recorded if not kinds]


def _recorded(piece: Piece, edge: Edge) -> frozenset[str]:
    """Say as what an edge is recorded: the kinds of the edge traces that run along half of it or more."""
    line = shapely.LineString(edge.points)
    kinds = set()
    for trace in piece.piece.features:
        if trace.feature_kind not in _KINDS or None in {trace.x, trace.y, trace.to_x, trace.to_y}:
            continue
        ends = [(float(x or 0), float(y or 0)) for x, y in ((trace.x, trace.y), (trace.to_x, trace.to_y))]
        along = all(line.distance(shapely.Point(end)) <= ALONG_MM for end in ends)
        if along and dist(*ends) * 2 >= edge.length_mm:
            kinds.add(trace.feature_kind)
    return frozenset(kinds)


def _strays(edges: list[Edge]) -> str:
    return decimals(f"{edge.strays_mm:.1f} mm" for edge in edges)


def _shown(edge: Edge) -> str:
    """Give how far it strays in mm, never finer than anyone measures."""
    return decimal(f"{max(edge.strays_mm, 0.1):.1f}")


def _draw() -> str:
    return _(
        "Draw the outline point by point along each edge (five points or more), so that it can be measured."
    )


def _measured(piece: Piece, least_mm: float, least_points: int) -> list[Edge]:
    """Give the edges drawn with enough points; two corners alone are a drawing, not a measurement."""
    polygon = shape_of(piece.piece).polygon if piece.piece.outline else None
    edges = list(edges_of(polygon)) if polygon is not None else []
    return [edge for edge in edges if len(edge.points) >= least_points and edge.length_mm >= least_mm]


def edges_of(outline: BaseGeometry) -> Iterator[Edge]:
    """Give the edges of an outline, from corner to corner."""
    largest = max(getattr(outline, "geoms", [outline]), key=lambda part: float(part.area))
    ring = [tuple(point) for point in largest.exterior.coords[:-1]]
    corners = [at for at in range(len(ring)) if _turn(ring, at) > CORNER_DEGREES]
    for start, end in pairwise([*corners, corners[0] + len(ring)] if len(corners) > 1 else []):
        points = tuple(ring[at % len(ring)] for at in range(start, end + 1))
        chord = shapely.LineString([points[0], points[-1]])
        yield Edge(points, max(float(chord.distance(shapely.Point(point))) for point in points))


def _turn(ring: list[Point], at: int) -> float:
    before, here, after = ring[at - 1], ring[at], ring[(at + 1) % len(ring)]
    turn = _direction(here, after) - _direction(before, here)
    return abs((turn + 180) % 360 - 180)


def _direction(start: Point, end: Point) -> float:
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))
