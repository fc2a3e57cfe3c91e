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
_SMALL = 0.66


def numbered_traces(drawing: Flat, overlay: Overlay) -> tuple[list[Mark], list[BaseGeometry]]:
    """Draw all traces with the numbers of their rows, and give the room they take."""
    numbers = {row.feature: at for at, row in enumerate(overlay.rows, start=1)}
    shown = [found for found in overlay.features if found.feature.points]
    marks = [mark for found in shown for mark in _trace(drawing, found)]
    taken = [_room(drawing, found) for found in shown]
    for found in sorted(shown, key=lambda found: numbers.get(found.feature.id, 0)):
        if found.feature.id in numbers:
            text = str(numbers[found.feature.id])
            spot = _free(drawing, _anchor(drawing, found), text, taken)
            taken.append(_box(spot, text, drawing.pen.unit))
            marks.append(_number(spot, text, drawing.pen.unit))
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


def _room(drawing: Flat, found: OverlayFeature) -> BaseGeometry:
    x, y = drawing.window.at(*trace_marks.middle_of(found.feature.points))
    if len(found.feature.points) == 2 and found.feature.kind in signs.FOLDS:
        line = shapely.LineString([drawing.window.at(*point) for point in found.feature.points])
        return line.buffer(0.1 * drawing.pen.unit)
    return shapely.Point(x, y).buffer(0.5 * drawing.pen.unit, quad_segs=2)


def _anchor(drawing: Flat, found: OverlayFeature) -> Point:
    """Give the point a number belongs to: the middle, of a fold a little within its upper or left end."""
    points = [drawing.window.at(*point) for point in found.feature.points]
    if found.feature.kind not in signs.FOLDS or len(points) != 2:
        return drawing.window.at(*trace_marks.middle_of(found.feature.points))
    (x, y), (to_x, to_y) = sorted(points, key=lambda point: (point[1], point[0]))
    length = max(shapely.LineString(points).length, 1e-6)
    part = min(2.2 * drawing.pen.unit / length, 0.5)
    return x + (to_x - x) * part, y + (to_y - y) * part


def _free(drawing: Flat, at: Point, text: str, taken: Sequence[BaseGeometry]) -> Point:
    """Find room beside a point: to the right if it is free there, else round about, else to the right."""
    unit = drawing.pen.unit
    aside = 0.75 * unit + width(text, _SMALL * unit) / 2
    tree = shapely.STRtree(taken)
    spots = [
        (at[0] + dx * aside * far, at[1] + dy * 0.8 * unit * far)
        for far in (1.0, 1.6, 2.3)
        for dx, dy in ((1, 0), (-1, 0), (1, -1), (1, 1), (-1, -1), (-1, 1), (0, -1.2), (0, 1.2))
    ]
    free = (spot for spot in spots if not len(tree.query(_box(spot, text, unit), predicate="intersects")))
    return next(free, spots[0])


def _box(spot: Point, text: str, unit: float) -> BaseGeometry:
    half, high = width(text, _SMALL * unit) / 2, 0.36 * unit
    return shapely.box(spot[0] - half, spot[1] - high, spot[0] + half, spot[1] + high)


def _number(spot: Point, text: str, unit: float) -> Mark:
    high = _SMALL * unit
    return text_mark(
        spot[0],
        spot[1] + 0.36 * high,
        text,
        high,
        text_anchor="middle",
        paint_order="stroke",
        stroke=PAPER,
        stroke_width=0.35 * high,
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
