"""Holes, folds, edges and other traces on a piece, as far as they are on the face one looks at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import shapely

from guardbook.binding.drawing import signs
from guardbook.binding.drawing.lettering import text_mark
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.strokes import GREY, LINES
from guardbook.binding.drawing.svg import Mark, Value, mark, number, path_of
from guardbook.binding.drawing.visible import Seen
from guardbook.binding.drawing.window import Window
from guardbook.binding.scene_parts import Point, SceneFeature, SceneFold


def is_shown(feature: SceneFeature) -> bool:
    """Say whether a trace can be seen from here if nothing lies over it."""
    return bool(feature.points) and (feature.on_this_face or feature.through)


def trace_marks(pen: Pen, window: Window, seen: Seen) -> Iterator[Mark]:
    """Draw the traces of one piece: under other pieces thin or small, edges and stains there not at all."""
    features = [feature for feature in seen.item.features if is_shown(feature)]
    middles = [middle_of(feature.points) for feature in features]
    for feature, middle, is_seen in zip(features, middles, seen.sees(middles), strict=True):
        if feature.kind in signs.HOLES:
            yield pen.hole(feature.kind, feature.use, window.at(*middle), hidden=not is_seen)
        elif feature.kind in signs.FOLDS and len(feature.points) == 2:
            yield from _fold(pen, window, seen, feature)
        elif is_seen:
            yield from in_sight(pen, window, feature)


def in_sight(pen: Pen, window: Window, feature: SceneFeature) -> Iterator[Mark]:
    """Draw an edge, a row or an area that one sees."""
    points = [window.at(*point) for point in feature.points]
    if feature.kind in signs.EDGES and len(points) == 2:
        yield pen.edge(feature.kind, (points[0], points[1]))
    elif len(points) == 2:
        yield from _row(pen, feature.kind, points)
    else:
        yield from _area(pen, feature.kind, points)


def _fold(pen: Pen, window: Window, seen: Seen, feature: SceneFeature) -> Iterator[Mark]:
    words = signs.fold_words(feature.kind, feature.use)
    in_sight = window.shape(shapely.LineString(feature.points).intersection(seen.sight))
    if not in_sight.is_empty:
        yield from pen.fold(words, feature.use, in_sight)


def hidden_folds(pen: Pen, window: Window, seen: Iterable[Seen]) -> Iterator[Mark]:
    """Draw all that is hidden of folds as one line."""
    hidden = [
        shapely.LineString(feature.points).difference(one.sight)
        for one in seen
        for feature in one.item.features
        if feature.kind in signs.FOLDS and len(feature.points) == 2 and is_shown(feature)
    ]
    lines = [window.shape(line) for line in hidden if not line.is_empty]
    if lines:
        yield pen.line("fold-hidden", LINES["fold-hidden"], shapely.GeometryCollection(lines))


def _row(pen: Pen, kind: str, points: list[Point]) -> Iterator[Mark]:
    """Draw a row of small marks, such as prickings, between two points."""
    line = shapely.LineString(points)
    dots: dict[str, Value] = {
        "stroke": GREY,
        "stroke_width": 0.3 * pen.unit,
        "stroke_dasharray": f"{number(0.07 * pen.unit)} {number(0.4 * pen.unit)}",
    }
    half = 1.3 * pen.unit
    sample = mark("path", d=f"M{number(-half)} 0H{number(half)}", fill="none", **dots)
    pen.use(f"row {kind}", signs.trace_words(kind), sample)
    yield mark("path", d=path_of(line), fill="none", **dots)


def _area(pen: Pen, kind: str, points: list[Point]) -> Iterator[Mark]:
    """Draw the corners of an area, or a point, with two letters for what it is."""
    unit, tag = pen.unit, signs.area_tag(kind)
    left, top, right, bottom = shapely.MultiPoint(points).bounds
    arm = min(0.8 * unit, (right - left) / 4, (bottom - top) / 4)
    corners = _corners(left, top, right, bottom, arm)
    pen.use(f"area {kind}", signs.trace_words(kind), _area_sample(unit, tag))
    if arm > 0.05 * unit:
        yield mark("path", d=corners, fill="none", stroke=GREY, stroke_width=0.08 * unit)
    yield pen.tag(tag, right - 0.35 * unit, bottom - 0.35 * unit)


def _corners(left: float, top: float, right: float, bottom: float, arm: float) -> str:
    """Give the path of the four corners of a rectangle."""
    along = ((left, arm), (right, -arm))
    down = ((top, arm), (bottom, -arm))
    return "".join(
        f"M{number(x)} {number(y + dy)}V{number(y)}H{number(x + dx)}" for x, dx in along for y, dy in down
    )


def _area_sample(unit: float, tag: str) -> Mark:
    corners = mark(
        "path",
        d=_corners(-1.2 * unit, -0.5 * unit, 1.2 * unit, 0.5 * unit, 0.4 * unit),
        fill="none",
        stroke=GREY,
        stroke_width=0.08 * unit,
    )
    return mark("g", corners, text_mark(0, 0.25 * unit, tag, 0.8 * unit, text_anchor="middle"))


def middle_of(points: Sequence[Point]) -> Point:
    """Give the middle of a trace."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def reckoned_folds(pen: Pen, window: Window, folds: Iterable[SceneFold]) -> Iterator[Mark]:
    """Draw the folds that were not seen but follow from the size of the volume."""
    for fold in folds:
        if not fold.seen:
            line = window.shape(shapely.LineString(fold.points))
            yield pen.line("fold-reckoned", LINES["fold-reckoned"], line)
