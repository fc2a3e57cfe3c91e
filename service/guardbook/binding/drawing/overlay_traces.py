"""The traces of two bindings laid over each other: what accounts for each, numbers, measured rows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import signs, trace_marks
from guardbook.binding.drawing.flat import Flat
from guardbook.binding.drawing.lettering import text_mark, width
from guardbook.binding.drawing.strokes import INK, LINES, PAPER
from guardbook.binding.drawing.svg import Mark, figure, mark, number
from guardbook.binding.overlay_parts import Overlay, OverlayFeature, RowPair
from guardbook.binding.scene_parts import Point
from guardbook.records import terms
from guardbook.wording import _, said_later

# whose filling each judgement borrows from the signs of uses, and its words
_FILLED: Mapping[str, str | None] = {"a": "first-use", "b": "second-use", "both": None, "neither": "carrier"}
_JUDGED: Mapping[str, str] = {
    "a": said_later("explained by A"),
    "b": said_later("explained by B"),
    "both": said_later("explained by both"),
    "neither": said_later("explained by neither"),
}
# how high the numbers are, in text sizes: on a wide sheet, and on one for a phone
_HIGH, _HIGH_NARROW = 0.9, 1.05
# where along a fold its number may stand, and on which sides of a trace, the best first
_ALONG = (0.04, 0.96, 0.1, 0.9, 0.2, 0.8, 0.3, 0.7, 0.4, 0.6, 0.5)
_ROUND_ABOUT = ((1, 0), (-1, 0), (1, -1), (1, 1), (-1, -1), (-1, 1), (0, -1), (0, 1))


def numbered_traces(drawing: Flat, overlay: Overlay) -> tuple[list[Mark], list[BaseGeometry]]:
    """Draw all traces with the numbers of their rows, and give the room they take."""
    numbers = {row.feature: at for at, row in enumerate(overlay.rows, start=1)}
    shown = [found for found in overlay.features if found.feature.points]
    marks = [mark for found in shown for mark in _trace(drawing, found)]
    taken = [_room(drawing, found) for found in shown]
    high = _HIGH_NARROW if drawing.pen.look.narrow else _HIGH
    # those of holes first: beside a fold there is room along all of it
    for found in sorted(shown, key=lambda found: (_is_line(found), numbers.get(found.feature.id, 0))):
        if found.feature.id in numbers:
            text = str(numbers[found.feature.id])
            anchor, spot = _free(drawing, found, text, high, taken)
            taken.append(_box(spot, text, high * drawing.pen.unit))
            marks.extend(_number(drawing, anchor, spot, text, high))
    return marks, taken


def _trace(drawing: Flat, found: OverlayFeature) -> Iterator[Mark]:
    pen, trace = drawing.pen, found.feature
    filled = _FILLED[found.accounted]
    words = f"{terms.label('feature', trace.kind)}, {_(_JUDGED[found.accounted])}"
    points = [drawing.window.at(*point) for point in trace.points]
    if trace.kind in signs.HOLES:
        yield pen.hole(trace.kind, filled, points[0], words=words)
        if found.accounted == "neither":
            yield pen.ring(points[0])
    elif trace.kind in signs.FOLDS and len(points) == 2:
        yield from pen.fold(words, filled, shapely.LineString(points))
    else:
        yield from trace_marks.in_sight(pen, drawing.window, trace)


def _is_line(found: OverlayFeature) -> bool:
    return found.feature.kind in signs.FOLDS and len(found.feature.points) == 2


def _room(drawing: Flat, found: OverlayFeature) -> BaseGeometry:
    x, y = drawing.window.at(*trace_marks.middle_of(found.feature.points))
    if _is_line(found):
        line = shapely.LineString([drawing.window.at(*point) for point in found.feature.points])
        return line.buffer(0.1 * drawing.pen.unit)
    return shapely.Point(x, y).buffer(0.5 * drawing.pen.unit, quad_segs=2)


def _anchors(drawing: Flat, found: OverlayFeature) -> list[Point]:
    """Give the points a number may stand at: the middle, of a fold all along it from its ends."""
    if not _is_line(found):
        return [drawing.window.at(*trace_marks.middle_of(found.feature.points))]
    points = [drawing.window.at(*point) for point in found.feature.points]
    (x, y), (to_x, to_y) = sorted(points, key=lambda point: (point[1], point[0]))
    return [(x + (to_x - x) * part, y + (to_y - y) * part) for part in _ALONG]


def _free(
    drawing: Flat, found: OverlayFeature, text: str, high: float, taken: Sequence[BaseGeometry]
) -> tuple[Point, Point]:
    """Find room as near a trace as can be: give the point of the trace and the middle of its number."""
    unit = drawing.pen.unit
    size = high * unit
    near = 0.15 if _is_line(found) else 0.55
    aside, up = near * unit + width(text, size) / 2, near * unit + 0.5 * size
    tree = shapely.STRtree(taken)
    spots = [
        (anchor, (anchor[0] + dx * aside * far, anchor[1] + dy * up * far))
        for far in (1.05, 1.5, 2.2, 3.0)
        for anchor in _anchors(drawing, found)
        for dx, dy in _ROUND_ABOUT
    ]
    free = (one for one in spots if not len(tree.query(_box(one[1], text, size), predicate="intersects")))
    return next(free, spots[0])


def _box(spot: Point, text: str, size: float) -> BaseGeometry:
    half, high = width(text, size) / 2, 0.45 * size
    return shapely.box(spot[0] - half, spot[1] - high, spot[0] + half, spot[1] + high)


def _number(drawing: Flat, anchor: Point, spot: Point, text: str, high: float) -> Iterator[Mark]:
    """Write a number; where it had to stand off, a line leads from it to its trace."""
    unit = drawing.pen.unit
    size = high * unit
    gap = shapely.Point(anchor).distance(_box(spot, text, size))
    if gap > unit:
        path = f"M{number(anchor[0])} {number(anchor[1])}L{number(spot[0])} {number(spot[1])}"
        yield mark("path", d=path, fill="none", **LINES["leader"].attributes(unit))
    yield text_mark(
        spot[0],
        spot[1] + 0.36 * size,
        text,
        size,
        text_anchor="middle",
        paint_order="stroke",
        stroke=PAPER,
        stroke_width=0.3 * size,
    )


def row_marks(drawing: Flat, pairs: Iterable[RowPair], pitch: float) -> Iterator[Mark]:
    """Measure how far rows of holes are apart, above the drawing, and say whose spine is as wide."""
    unit, window = drawing.pen.unit, drawing.window
    for at, pair in enumerate(pairs):
        y = drawing.frame.y - (0.2 + pitch * at) * unit
        ends = [window.at(*max(row, key=lambda point: point[1])) for row in pair.rows]
        (left, low), (right, to_low) = sorted(ends)
        path = (
            f"M{number(left)} {number(low)}V{number(y - 0.3 * unit)}M{number(right)} {number(to_low)}"
            f"V{number(y - 0.3 * unit)}M{number(left)} {number(y)}H{number(right)}"
        )
        yield mark("path", d=path, fill="none", **LINES["leader"].attributes(unit))
        yield mark("path", d=_arrows(left, right, y, unit), fill=INK)
        said = f"{figure(round(pair.apart_mm, 1))} mm{_as_wide(pair)}"
        yield text_mark(right + 0.6 * unit, y + 0.3 * unit, said, 0.82 * unit)


def _arrows(left: float, right: float, y: float, unit: float) -> str:
    long, half = number(0.6 * unit), number(0.2 * unit)
    top, whole = number(y - 0.2 * unit), number(0.4 * unit)
    return (
        f"M{number(left)} {number(y)}l{long} -{half}v{whole}Z"
        f"M{number(right)} {number(y)}L{number(right - 0.6 * unit)} {top}v{whole}Z"
    )


def _as_wide(pair: RowPair) -> str:
    sides = _(" and ").join(side.upper() for side in pair.as_wide_as)
    return _(": as wide as the spine of {bindings}").format(bindings=sides) if sides else ""
