"""How a cover lies when it is closed round its text block: its parts between the folds, and where each comes.

Everything here starts from the outside of the cover laid flat, in mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.limits import Limits
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import SceneFold, SceneItem
from guardbook.binding.transforms import PLANE_MIRROR, SAME, Affine, shift


@dataclass(frozen=True, kw_only=True)
class FoldedPart:
    """A part of the cover between its folds, and the way from the cover's outside to where it lies closed.

    `part` is spine, upper, lower, turn-in or flap; `region` is that part of the plane. A turn-in comes to lie
    on the inside of the cover, a flap on the outside of the board across the fore-edge.
    """

    part: str
    region: BaseGeometry
    plane: PlaneName
    way: Affine

    def folded(self, geometry: BaseGeometry) -> BaseGeometry:
        """Give what of a geometry on the outside of the cover belongs to this part, where it lies closed."""
        return self.way.shape(geometry.intersection(self.region))


def folded_parts(sheet: SceneItem, thickness: float) -> tuple[FoldedPart, ...]:
    """Give the parts of a cover, on the plane of its outside, closed round a text block `thickness` mm thick.

    Without two joints there is nothing to fold round: (). A flap first crosses the fore-edge, and that strip
    of it is no part. A corner is turned in twice, as if it had not been cut.
    """
    upright, level = _lines(sheet.folds)
    joints = [x for kind, x in upright if kind == "joint"]
    if len(joints) < 2 or sheet.outline is None:
        return ()
    outline = Limits(*sheet.outline.bounds, "sheet")
    lower, upper, middle = min(joints), max(joints), (outline.bottom + outline.top) / 2
    closed = _Closed(
        lower,
        upper,
        left=max((x for _, x in upright if x < lower), default=outline.left),
        right=min((x for _, x in upright if x > upper), default=outline.right),
        tail=max((y for _, y in level if y < middle), default=outline.bottom),
        head=min((y for _, y in level if y > middle), default=outline.top),
    )
    flaps = {x for kind, x in upright if kind == "flap"}
    return (*_faces(closed), *_turned_in(closed, outline, flaps), *_flaps(closed, outline, flaps, thickness))


class _Closed(NamedTuple):
    """The lines along which a cover is folded when it is closed."""

    lower: float
    upper: float
    left: float
    right: float
    tail: float
    head: float


def _lines(folds: Iterable[SceneFold]) -> tuple[list[tuple[str, float]], list[tuple[str, float]]]:
    upright, level = [], []
    for fold in folds:
        (x, y), (to_x, to_y) = fold.points
        if fold.kind in {"fold", "edge"}:
            continue
        if abs(x - to_x) <= abs(y - to_y):
            upright.append((fold.kind, (x + to_x) / 2))
        else:
            level.append((fold.kind, (y + to_y) / 2))
    return upright, level


def _faces(at: _Closed) -> Iterable[FoldedPart]:
    yield FoldedPart(
        part="spine",
        region=shapely.box(at.lower, at.tail, at.upper, at.head),
        plane=PlaneName("cover-outside"),
        way=SAME,
    )
    yield FoldedPart(
        part="upper",
        region=shapely.box(at.upper, at.tail, at.right, at.head),
        plane=PlaneName("board-outside", side="upper"),
        way=shift(-at.upper, 0),
    )
    yield FoldedPart(
        part="lower",
        region=shapely.box(at.left, at.tail, at.lower, at.head),
        plane=PlaneName("board-outside", side="lower"),
        way=Affine(-1, 0, 0, 1, at.lower, 0),
    )


def _turned_in(at: _Closed, outline: Limits, flaps: set[float]) -> Iterable[FoldedPart]:
    """Turn in all round: over a line of the outside, then seen from inside, where x is mirrored."""
    columns = [
        (outline.left, at.left, shift(-2 * at.left, 0)),
        (at.left, at.right, PLANE_MIRROR),
        (at.right, outline.right, shift(-2 * at.right, 0)),
    ]
    rows = [
        (outline.bottom, at.tail, Affine(1, 0, 0, -1, 0, 2 * at.tail)),
        (at.tail, at.head, SAME),
        (at.head, outline.top, Affine(1, 0, 0, -1, 0, 2 * at.head)),
    ]
    for (left, right, across), (bottom, top, along) in product(columns, rows):
        between = across is PLANE_MIRROR
        if (between and along is SAME) or (not between and flaps & {left, right}):
            continue
        if right > left and top > bottom:
            region = shapely.box(left, bottom, right, top)
            yield FoldedPart(
                part="turn-in", region=region, plane=PlaneName("cover-inside"), way=across.after(along)
            )


def _flaps(at: _Closed, outline: Limits, flaps: set[float], thickness: float) -> Iterable[FoldedPart]:
    if at.left in flaps and outline.left < at.left - thickness:
        yield FoldedPart(
            part="flap",
            region=shapely.box(outline.left, outline.bottom, at.left - thickness, outline.top),
            plane=PlaneName("board-outside", side="upper"),
            way=shift(at.right - at.upper - at.left + thickness, 0),
        )
    if at.right in flaps and outline.right > at.right + thickness:
        yield FoldedPart(
            part="flap",
            region=shapely.box(at.right + thickness, outline.bottom, outline.right, outline.top),
            plane=PlaneName("board-outside", side="lower"),
            way=Affine(-1, 0, 0, 1, at.lower - at.left + at.right + thickness, 0),
        )
