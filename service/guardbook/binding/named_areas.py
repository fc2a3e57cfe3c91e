"""Positions without measures: the plane and the area of it that their words name, and a piece drawn there."""

from __future__ import annotations

from types import MappingProxyType
from typing import NamedTuple

import shapely.affinity
from shapely.geometry.base import BaseGeometry

from guardbook.binding.limits import Limits, half_spine
from guardbook.binding.outlines import Shape
from guardbook.binding.planes import PLANES, PlaneName, plane_name
from guardbook.binding.stations_in_use import COVER_PLANES, stations_at, way_to_text_block
from guardbook.records.host import HostVolume
from guardbook.records.placing import Position

# how much of a plane is meant by its head, tail, spine or fore-edge (for drawing only, no measure)
EDGE_SHARE = 0.15
LIMP = frozenset({"limp", "semi-limp"})

# where a piece lies that is said to be nothing but this (common practice, no published source)
FUNCTION_PLANES: MappingProxyType[str, str] = MappingProxyType(
    {
        "cover": "cover-outside",
        "covering": "cover-outside",
        "wrapper": "cover-outside",
        "flap": "cover-outside",
        "turn-in": "cover-inside",
        "board": "board-outside",
        "board-lining": "board-inside",
        "pastedown": "board-inside",
        "spine-lining": "textblock-spine",
        "spine-lining-overall": "textblock-spine",
        "spine-lining-panel": "textblock-spine",
        "spine-lining-slotted": "textblock-spine",
        "spine-lining-extended": "textblock-spine",
        "spine-lining-patch": "textblock-spine",
        "hollow-tube": "textblock-spine",
        "sewing-support": "textblock-spine",
        "sewing-support-core": "textblock-spine",
        "endband-core": "textblock-spine",
        "endband-tie-down": "textblock-spine",
        "sewing-guard": "fold",
        "outer-guard": "fold",
        "flyleaf": "leaf",
        "leaf-repair": "leaf",
        "loose-insert": "leaf",
        "tab": "leaf",
    }
)


class Panel(NamedTuple):
    """A panel of the spine between two supports, counted from the head, in mm on a plane."""

    number: int
    bottom: float
    top: float


def plane_meant(position: Position, function: str | None, host: HostVolume | None) -> PlaneName | None:
    """Say which one plane a position is on: as it says, or as gathering, leaf, panel or function imply."""
    said = plane_name(position)
    if said is None:
        slug = _implied(position, function, host)
        said = _named(slug, position) if slug else None
    return said if said and said.is_one else None


def _implied(position: Position, function: str | None, host: HostVolume | None) -> str | None:
    if position.gathering is not None:
        return "fold"
    if position.leaf is not None:
        return "leaf"
    if position.panel is not None:
        return "textblock-spine"
    if position.side is not None and position.host_face is not None:
        limp = host is not None and host.binding_kind in LIMP
        return f"{'cover' if limp else 'board'}-{position.host_face}"
    return FUNCTION_PLANES.get(function or "")


def _named(slug: str, position: Position) -> PlaneName:
    return PlaneName(slug, **{name: getattr(position, name) for name in PLANES[slug].named_by})


def panels_on(host: HostVolume | None, plane: PlaneName, stage: int, limits: Limits) -> tuple[Panel, ...]:
    """Give the panels of the spine as they fall on a plane, from the head.

    They are divided by the sewing supports, or evenly where the volume is said to have another number of
    panels than its supports make.
    """
    if host is None:
        return ()
    way = way_to_text_block(host, plane, stage)
    supports = [float(s.y) for s in stations_at(host, stage) if s.station_kind == "sewing-support"]
    if way is not None:
        supports = [way.inverse().point(0, y)[1] for y in supports]
    inside = sorted(y for y in supports if limits.bottom < y < limits.top)
    count = host.panels or len(inside) + 1
    if count != len(inside) + 1:
        step = (limits.top - limits.bottom) / count
        inside = [limits.bottom + step * n for n in range(1, count)]
    cuts = [limits.bottom, *inside, limits.top]
    return tuple(Panel(n + 1, cuts[-2 - n], cuts[-1 - n]) for n in range(count))


def area_named(
    position: Position, plane: PlaneName, limits: Limits, host: HostVolume | None, stage: int
) -> BaseGeometry:
    """Give the part of a plane, as a rectangle in mm, that side, panel and edge of a position name."""
    left, bottom, right, top, _ = limits
    half = half_spine(host) or 0.0
    if position.panel is not None:
        panels = panels_on(host, plane, stage, limits)
        bottom, top = next(((p.bottom, p.top) for p in panels if p.number == position.panel), (bottom, top))
    if position.panel is not None and half and plane.plane in COVER_PLANES:
        left, right = -half, half
    elif plane.axes.centred and plane.plane != "fold" and position.side is not None:
        inner = half if plane.plane in COVER_PLANES else 0.0
        towards = (position.side == "upper") == (plane.plane != "cover-inside")
        left, right = (inner, right) if towards else (left, -inner)
    elif plane.plane == "fold" and position.edge != "fore-edge":
        left, right = left * EDGE_SHARE, right * EDGE_SHARE
    box = Limits(min(left, right), bottom, max(left, right), top, limits.source)
    return _at_edge(position.edge, plane, box, half).box


def _at_edge(edge: str | None, plane: PlaneName, box: Limits, half: float) -> Limits:
    left, bottom, right, top, source = box
    wide, high = (right - left) * EDGE_SHARE, (top - bottom) * EDGE_SHARE
    away_from_zero = left < 0 and right <= 0
    match edge:
        case "head":
            bottom = top - high
        case "tail":
            top = bottom + high
        case "spine" if plane.axes.centred and left < 0 < right:
            near = half if half and plane.plane in COVER_PLANES else right
            left, right = max(left, -near), min(right, near)
        case "spine":
            left, right = (right - wide, right) if away_from_zero else (left, left + wide)
        case "fore-edge" if not (left < 0 < right):
            left, right = (left, left + wide) if away_from_zero else (right - wide, right)
    return Limits(left, bottom, right, top, source)


def drawn_in(area: BaseGeometry, limits: Limits, shape: Shape, position: Position) -> BaseGeometry:
    """Draw a piece in the middle of an area: in its own size where that is known, kept on its plane.

    What is known of x or y alone is kept. Without a size the area itself stands for the piece.
    """
    filled = position.model_copy(update={"x": position.x or 0, "y": position.y or 0})
    outline = shape.on_plane(filled)
    if outline is None:
        return area
    box, low, high = outline.bounds, limits[:2], limits[2:4]
    middle = area.centroid.coords[0]
    moves = [
        _move(box[axis], box[axis + 2], middle[axis], low[axis], high[axis]) if known is None else 0.0
        for axis, known in enumerate((position.x, position.y))
    ]
    return shapely.affinity.translate(outline, *moves)


def _move(start: float, end: float, middle: float, low: float, high: float) -> float:
    """Centre a stretch on a middle, then push it within low and high where it is not longer than that."""
    length = end - start
    wanted = middle - length / 2
    if length > high - low:
        return (low + high - length) / 2 - start
    return min(max(wanted, low), high - length) - start
