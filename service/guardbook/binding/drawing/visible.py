"""What is seen of pieces that lie on each other, and which of their lines are hidden."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.scene_parts import Point, SceneItem

NOTHING: BaseGeometry = shapely.GeometryCollection()
# less than this of a piece in sight is a seam between others, not a part of it one could see
LEAST_MM2 = 0.5
# how far from the edge of the part in sight a trace may lie and still be taken for one of its own
AT_EDGE_MM = 0.3


@dataclass(frozen=True)
class Seen:
    """A piece on a plane: the part of its area in sight, and the lines of its outline that are not."""

    item: SceneItem
    outline: BaseGeometry
    area: BaseGeometry
    hidden_lines: BaseGeometry

    @property
    def is_hidden(self) -> bool:
        """Say whether nothing of it is in sight."""
        return self.area.is_empty

    @cached_property
    def sight(self) -> BaseGeometry:
        """Give the part in sight with a little beyond its edge, where its own traces may lie."""
        return self.area if self.is_hidden else self.area.buffer(AT_EDGE_MM)

    def sees(self, points: Sequence[Point]) -> list[bool]:
        """Say of points of the plane whether they belong to the part in sight, or to its edge."""
        if not points or self.is_hidden:
            return [False] * len(points)
        found: list[bool] = shapely.dwithin(self.area, shapely.points(points), 0.01).tolist()
        return found


def seen_parts(items: Sequence[SceneItem], sheet: BaseGeometry) -> tuple[Seen, ...]:
    """Work out what is seen of pieces with outlines, given from the farthest to the nearest.

    `sheet` is the cover, board or leaf itself: it hides what lies on its other face even where no record of
    it is among the pieces. A piece that was not measured hides nothing.
    """
    drawn = [item for item in items if item.outline is not None]
    covers = [item.outline or NOTHING for item in drawn]
    opaque = [at for at, item in enumerate(drawn) if item.measured]
    tree = shapely.STRtree([covers[at] for at in opaque])
    return tuple(_seen(at, drawn[at], tree, opaque, sheet) for at in range(len(drawn)))


def _seen(
    at: int, item: SceneItem, tree: shapely.STRtree, opaque: Sequence[int], sheet: BaseGeometry
) -> Seen:
    outline = item.outline or NOTHING
    near = sorted(int(found) for found in tree.query(outline, predicate="intersects") if opaque[found] > at)
    behind = [sheet] if item.from_other_face and not item.is_sheet else []
    over = [tree.geometries[found] for found in near] + behind
    if not over:
        return Seen(item, outline, outline, NOTHING)
    if any(one.covers(outline) for one in over):
        return Seen(item, outline, NOTHING, _lines(outline))
    cover = shapely.union_all(over)
    area = outline.difference(cover)
    return Seen(
        item, outline, area if area.area > LEAST_MM2 else NOTHING, _lines(outline).intersection(cover)
    )


def _lines(outline: BaseGeometry) -> BaseGeometry:
    return outline.boundary or NOTHING
