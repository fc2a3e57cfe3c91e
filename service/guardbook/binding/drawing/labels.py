"""Where the letters of pieces go: into what is in sight of them, else beside it, else into the margin."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing.window import Window

Point = tuple[float, float]
_Place = tuple[Point, BaseGeometry]
# how finely a part in sight is searched for room, and the least distance of two letters in the margin
_STEPS = 9
_SHARES = (np.arange(_STEPS) + 0.5) / _STEPS
PITCH = 1.25


@dataclass(frozen=True)
class Wanted:
    """A letter to place: its text, its room on paper (mm), the part in sight, and the whole outline.

    `towards` says which face is in sight, where that is known; `words` stand under the letter. Letters of
    other pieces may stand on one that is `ground`.
    """

    text: str
    width: float
    height: float
    area: BaseGeometry
    outline: BaseGeometry
    towards: bool | None = None
    words: str = ""
    ground: bool = False


@dataclass(frozen=True)
class Placed:
    """A letter in its place: the middle of its room, and for one outside its piece the points it leads to."""

    texts: tuple[str, ...]
    x: float
    y: float
    leads_to: tuple[Point, ...] = ()


def placed(
    wanted: Sequence[Wanted], taken: Iterable[BaseGeometry], within: BaseGeometry
) -> Iterator[tuple[Wanted, Placed | None]]:
    """Find room for letters inside the parts in sight, or just beside them on what is free `within` an area.

    They keep clear of one another and of what is `taken`, lines only as far as that can be. What is hidden,
    and what has no room, gets None.
    """
    room = _room(wanted, list(taken), within)
    for one in wanted:
        spot = _inside(one, room)
        found = Placed((one.text,), *spot) if spot else _beside(one, room)
        if found:
            room.take((found.x, found.y), one)
        yield one, found


class _Room(NamedTuple):
    """What is taken: all traces, those of them that have extent, the pieces, and the letters that are set.

    Letters are kept by the rows of the paper, `row` mm high, into which they reach.
    """

    traces: shapely.STRtree
    holes: shapely.STRtree
    pieces: shapely.STRtree
    within: BaseGeometry
    row: float
    letters: dict[int, list[tuple[Point, Wanted]]]

    def take(self, middle: Point, one: Wanted) -> None:
        for row in self._rows(middle, one):
            self.letters.setdefault(row, []).append((middle, one))

    def has_no_letter(self, middle: Point, one: Wanted) -> bool:
        x, y = middle
        for row in self._rows(middle, one):
            for (other_x, other_y), other in self.letters.get(row, ()):
                if (
                    abs(x - other_x) * 2 <= one.width + other.width
                    and abs(y - other_y) * 2 <= one.height + other.height
                ):
                    return False
        return True

    def _rows(self, middle: Point, one: Wanted) -> range:
        half = one.height / 2
        return range(int((middle[1] - half) // self.row), int((middle[1] + half) // self.row) + 1)


def _room(wanted: Sequence[Wanted], taken: list[BaseGeometry], within: BaseGeometry) -> _Room:
    holes = [shape for shape in taken if shape.area]
    pieces = [one.area for one in wanted if not one.ground and not one.area.is_empty]
    shapely.prepare(within)
    row = max((one.height for one in wanted), default=1.0)
    traces, extents, parts = (shapely.STRtree(shapes) for shapes in (taken, holes, pieces))
    return _Room(traces, extents, parts, within, row, {})


def _box(middle: Point, one: Wanted) -> BaseGeometry:
    (x, y), half, high = middle, one.width / 2, one.height / 2
    return shapely.box(x - half, y - high, x + half, y + high)


def _boxes(middles: NDArray[np.float64], one: Wanted) -> NDArray[Any]:
    """Give the boxes of a letter at many places at once, which takes a fraction of one at a time."""
    x, y, half, high = middles[:, 0], middles[:, 1], one.width / 2, one.height / 2
    found: NDArray[Any] = shapely.box(x - half, y - high, x + half, y + high)
    return found


def _inside(one: Wanted, room: _Room) -> Point | None:
    """Find room within what is in sight: clear of all traces, else of those that have extent."""
    on_lines: list[_Place] = []
    for places in _fitting(one):
        free = [(spot, box) for spot, box in places if room.has_no_letter(spot, one)]
        if clear := _clear(free, room.traces):
            return clear[0][0]
        on_lines += free
    return next((spot for spot, _ in _clear(on_lines, room.holes)), None)


def _clear(places: Sequence[_Place], taken: shapely.STRtree) -> list[_Place]:
    if not places:
        return []
    hit = set(taken.query([box for _, box in places], predicate="intersects")[0].tolist())
    return [place for at, place in enumerate(places) if at not in hit]


def _fitting(one: Wanted) -> Iterator[list[_Place]]:
    """Give the places, with their boxes, at which a letter lies wholly within a part in sight."""
    parts = sorted(_areas(one.area), key=lambda part: -part.area)
    for part in parts[:4]:
        if part.area < one.width * one.height:
            return
        middle = _most_room(part)
        box = _box(middle, one)
        shapely.prepare(part)
        if part.covers(box):
            yield [(middle, box)]
        spots = _grid(part, middle)
        boxes = _boxes(spots, one)
        fits = shapely.covers(part, boxes)
        yield list(zip(map(tuple, spots[fits].tolist()), boxes[fits], strict=True))


def _beside(one: Wanted, room: _Room) -> Placed | None:
    """Find room just outside a piece of which something is in sight."""
    part = max(_areas(one.area), key=lambda part: part.area, default=None)
    if part is None:
        return None
    spots = [spot for spot in _around(part, one) if room.has_no_letter(spot, one)]
    places = list(zip(spots, _boxes(np.array(spots), one), strict=True)) if spots else []
    for spot, box in _clear(_clear(places, room.pieces), room.traces):
        if room.within.covers(box):
            _, anchor = shapely.shortest_line(shapely.Point(spot), part).coords
            return Placed((one.text,), *spot, leads_to=((float(anchor[0]), float(anchor[1])),))
    return None


def _around(part: shapely.Polygon, one: Wanted) -> Iterator[Point]:
    left, top, right, bottom = part.bounds
    aside, off = one.width / 2 + 0.7 * one.height, 1.2 * one.height
    for share in (0.5, 0.3, 0.7):
        y = top + (bottom - top) * share
        yield right + aside, y
        yield left - aside, y
    for share in (0.5, 0.3, 0.7):
        x = left + (right - left) * share
        yield x, top - off
        yield x, bottom + off


def _areas(area: BaseGeometry) -> Iterator[shapely.Polygon]:
    for part in getattr(area, "geoms", [area]):
        if isinstance(part, shapely.Polygon):
            yield part


def _grid(part: shapely.Polygon, middle: Point) -> NDArray[np.float64]:
    """Give places to try on a grid, from the middle outwards, as rows of x and y."""
    left, bottom, right, top = part.bounds
    x = (left + (right - left) * _SHARES).repeat(_STEPS)
    y = np.tile(bottom + (top - bottom) * _SHARES, _STEPS)
    apart = ((x - middle[0]) ** 2 + (y - middle[1]) ** 2).round(3)
    return np.stack((x, y), axis=1)[np.lexsort((y, x, apart))]


def _most_room(part: shapely.Polygon) -> Point:
    left, bottom, right, top = part.bounds
    box = shapely.box(left, bottom, right, top)
    if part.area > 0.999 * box.area:
        return (left + right) / 2, (bottom + top) / 2
    coarse = max(right - left, top - bottom) / 100
    x, y = shapely.maximum_inscribed_circle(part, coarse).coords[0]
    return float(x), float(y)


def in_margin(
    wanted: Sequence[Wanted], window: Window, unit: float, reach: float
) -> tuple[tuple[Placed, ...], tuple[Placed, ...]]:
    """Set letters in the margins left and right, `reach` mm from the window, each leading to its piece.

    Where more come than have room, neighbours share a place.
    """
    middle = window.x + window.width / 2
    left: list[Wanted] = []
    right: list[Wanted] = []
    for one in sorted(wanted, key=lambda one: (_height(one.outline), one.text)):
        x = one.outline.centroid.x
        balanced = len(left) < len(right)
        to_left = balanced if abs(x - middle) < window.width * 0.12 else x < middle
        (left if to_left else right).append(one)
    sides = ((left, window.x - reach, False), (right, window.x + window.width + reach, True))
    first, second = (tuple(_column(side, x, window, unit, on_right=right)) for side, x, right in sides)
    return first, second


def _height(outline: BaseGeometry) -> float:
    return round(float(outline.centroid.y), 2)


def _column(
    side: Sequence[Wanted], x: float, window: Window, unit: float, *, on_right: bool
) -> Iterator[Placed]:
    if not side:
        return
    slots = max(1, int(window.height / (PITCH * unit)))
    together = -(-len(side) // slots)
    led = sorted(
        ((one, _anchor(one, at, unit, on_right=on_right)) for at, one in enumerate(side)),
        key=lambda pair: (pair[1][1], pair[0].text),
    )
    rows = [led[at : at + together] for at in range(0, len(led), together)]
    heights = _spread([row[0][1][1] for row in rows], PITCH * unit, window)
    for row, y in zip(rows, heights, strict=True):
        yield Placed(tuple(one.text for one, _ in row), x, y, tuple(point for _, point in row))


def _anchor(one: Wanted, at: int, unit: float, *, on_right: bool) -> Point:
    """Give a point just inside the piece, on the side of the margin; pieces on each other get others."""
    shape = one.outline if one.area.is_empty else one.area
    left, bottom, right, top = shape.bounds
    part = 0.5 + 0.36 * _between(at)
    y = bottom + (top - bottom) * part
    level = shapely.LineString([(left - 1, y), (right + 1, y)]).intersection(shape)
    ends = level.bounds if not level.is_empty else (left, y, right, y)
    inset = min(0.5 * unit, (ends[2] - ends[0]) / 2)
    return (ends[2] - inset if on_right else ends[0] + inset), y


def _between(at: int) -> float:
    """Give numbers between -1 and 1 that are far from one another, however many are asked for."""
    return ((at * 0.618034) % 1) * 2 - 1 if at else 0.0


def _spread(heights: Sequence[float], pitch: float, window: Window) -> list[float]:
    """Move heights apart to at least `pitch`, and keep them beside the window as far as they fit."""
    placed_at: list[float] = []
    for y in heights:
        placed_at.append(max(y, placed_at[-1] + pitch) if placed_at else y)
    lowest = max(window.y + window.height - pitch / 2, window.y + pitch * len(heights))
    for at in reversed(range(len(placed_at))):
        placed_at[at] = min(placed_at[at], lowest)
        lowest = placed_at[at] - pitch
    return placed_at
