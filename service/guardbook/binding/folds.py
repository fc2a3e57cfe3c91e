"""Where a cover or a piece folds: seen on it, or worked out from the size of the volume.

Covers are told of laid flat, in mm; their folds are the same on both faces but for the sign of x.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from guardbook.binding.limits import Limits
from guardbook.binding.scene_parts import Point, SceneFold, SceneItem

# a fold seen so near to where one is expected is that one, and a cover that reaches less far past an edge
# than this is not turned in there (common practice, no published source)
NEAR_MM = 5.0
# what is turned in is narrower than this, what is wider is a flap (common practice, no published source)
WIDEST_TURN_IN_MM = 45.0
STRAIGHT_WITHIN_MM = 3.0
# a piece that reaches less far past an edge has only been measured so
PAST_MM = 1.0


@dataclass(frozen=True, kw_only=True)
class CoverSize:
    """What the folds of a cover are worked out from, in mm; None where it is not known.

    `half_spine` is half the width of the spine, `tail` and `head` the edges of the closed cover, `fore_edge`
    the distance of its fore-edges from the middle of the spine.
    """

    half_spine: float | None = None
    tail: float = 0.0
    head: float | None = None
    fore_edge: float | None = None


def fold_of(kind: str, points: tuple[Point, Point], feature: str | None = None) -> SceneFold:
    """Make a fold, its points from the tail or the left."""
    first, last = sorted(points, key=lambda point: (point[1], point[0]))
    return SceneFold(kind=kind, points=(first, last), feature=feature)


def folds_seen(item: SceneItem) -> tuple[SceneFold, ...]:
    """Give the fold traces of a piece; what they are for is not told."""
    return tuple(
        fold_of("fold", (trace.points[0], trace.points[1]), trace.id)
        for trace in item.features
        if trace.kind == "fold" and len(trace.points) == 2
    )


def cover_folds(sheet: SceneItem, size: CoverSize) -> tuple[SceneFold, ...]:
    """Give the folds of a cover laid flat: those seen, told for what they are, and those that must be there.

    Folds of an earlier use stay plain folds. A joint is expected at half the spine, a turn-in or flap where
    the cover reaches past the edges of the closed volume. One that is seen near there takes its place.
    """
    if sheet.outline is None:
        return ()
    outline = Limits(*sheet.outline.bounds, "sheet")
    made = {trace.id: trace.made for trace in sheet.features}
    expected, found = list(_expected(outline, size)), []
    for fold in folds_seen(sheet):
        serves = made[fold.feature or ""] != "earlier"
        near = next((one for one in expected if serves and _same_line(one, fold)), None)
        near = near or next(
            (one for one in expected if made[fold.feature or ""] == "now" and _is_joint(one, fold, size)),
            None,
        )
        if near:
            expected.remove(near)
        kind = near.kind if near else _kind(fold, outline, size) if serves else "fold"
        found.append(replace(fold, kind=kind))
    return (*found, *expected)


def _is_joint(expected: SceneFold, fold: SceneFold, size: CoverSize) -> bool:
    """Take a fold beside the spine for its joint, though the spine was less wide then, or wider, than now."""
    x, to_x = fold.points[0][0], fold.points[1][0]
    upright = abs(x - to_x) <= STRAIGHT_WITHIN_MM
    same_side = x * expected.points[0][0] > 0
    return expected.kind == "joint" and upright and same_side and abs(x) <= 2 * (size.half_spine or 0)


def _expected(outline: Limits, size: CoverSize) -> Iterable[SceneFold]:
    left, bottom, right, top, _ = outline
    if size.half_spine:
        for x in (-size.half_spine, size.half_spine):
            if left < x < right:
                yield fold_of("joint", ((x, bottom), (x, top)))
    for y, past in ((size.tail, size.tail - bottom), (size.head, top - (size.head or top))):
        if y is not None and past > NEAR_MM:
            yield fold_of(_turned(past), ((left, y), (right, y)))
    for x, past in _fore_edges(outline, size):
        if past > NEAR_MM:
            yield fold_of(_turned(past), ((x, bottom), (x, top)))


def _fore_edges(outline: Limits, size: CoverSize) -> Iterable[tuple[float, float]]:
    if size.fore_edge is not None:
        yield -size.fore_edge, -size.fore_edge - outline.left
        yield size.fore_edge, outline.right - size.fore_edge


def _turned(past: float) -> str:
    return "turn-in" if past <= WIDEST_TURN_IN_MM else "flap"


def _kind(fold: SceneFold, outline: Limits, size: CoverSize) -> str:
    """Tell what a fold along an edge of the cover is for; one elsewhere is just a fold."""
    (x, y), (to_x, to_y) = fold.points
    if abs(x - to_x) <= STRAIGHT_WITHIN_MM and abs(x) > (size.half_spine or 0) + NEAR_MM:
        past = x - outline.left if x < 0 else outline.right - x
    elif abs(y - to_y) <= STRAIGHT_WITHIN_MM:
        past = min(y - outline.bottom, outline.top - y)
    else:
        return "fold"
    return _turned(past) if past <= WIDEST_TURN_IN_MM else "fold"


def _same_line(one: SceneFold, two: SceneFold) -> bool:
    pairs = zip(one.points, two.points, strict=True)
    upright = [abs(point.points[0][0] - point.points[1][0]) <= STRAIGHT_WITHIN_MM for point in (one, two)]
    if upright[0] != upright[1]:
        return False
    axis = 0 if upright[0] else 1
    return all(abs(mine[axis] - theirs[axis]) <= NEAR_MM for mine, theirs in pairs)


def edge_folds(item: SceneItem, limits: Limits) -> Iterator[SceneFold]:
    """Give the lines at which a piece that is folded goes on past the edges of its plane."""
    if item.outline is None or limits.source not in {"stated", "size"}:
        return
    left, bottom, right, top = item.outline.bounds
    for x in (limits.left, limits.right):
        if left < x - PAST_MM and right > x + PAST_MM:
            yield fold_of("edge", ((x, bottom), (x, top)))
    for y in (limits.bottom, limits.top):
        if bottom < y - PAST_MM and top > y + PAST_MM:
            yield fold_of("edge", ((left, y), (right, y)))
