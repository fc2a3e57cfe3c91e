"""The layers of a plane cut across at one height: which piece lies on which, and how thick each is."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely

from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.scene_planes import ScenePlane

# a piece whose thickness was not measured is drawn as if it were so thick
NOMINAL_MM = 0.3
# a hole is taken to be in the cut if its middle is no further off (common practice, no published source)
IN_CUT_MM = 1.5
_TOUCH_MM = 0.01


@dataclass(frozen=True)
class Band:
    """A piece in the cut: from where to where it reaches, and the heights of its two faces, all in mm.

    `holes` are those of its holes that the cut goes through.
    """

    item: SceneItem
    stretches: tuple[tuple[float, float], ...]
    base: float
    top: float
    holes: tuple[SceneFeature, ...] = ()

    def carries(self, other: Band) -> bool:
        """Say whether the other lies directly on this one."""
        return abs(other.base - self.top) < 1e-9 and _meet(self.stretches, other.stretches)


@dataclass(frozen=True)
class Cut:
    """All that a cut goes through, the farthest first, and the body that no record describes as a piece.

    `body` is the text block, board or leaf: the heights of its two faces, None where a piece stands for it.
    """

    bands: tuple[Band, ...]
    body: tuple[float, float] | None

    @property
    def heights(self) -> tuple[float, float]:
        """Give the lowest and the highest face."""
        faces = [*(self.body or ()), *(band.base for band in self.bands), *(band.top for band in self.bands)]
        return min(faces, default=0.0), max(faces, default=1.0)


@dataclass(frozen=True)
class Faces:
    """A plane with what lies before and behind it as one looks at it, each from the farthest to the nearest.

    `has_sheet` says whether the cover, board or leaf itself is one of the pieces.
    """

    plane: ScenePlane
    behind: tuple[SceneItem, ...]
    before: tuple[SceneItem, ...]

    @property
    def has_sheet(self) -> bool:
        """Say whether the cover, board or leaf itself is one of the pieces."""
        return any(item.is_sheet for item in self.before)

    @property
    def items(self) -> tuple[SceneItem, ...]:
        """Give all of them, the farthest first."""
        return self.behind + self.before


def cut_at(faces: Faces, y: float, body_mm: float = 0.0) -> Cut:
    """Cut a plane at a height: each piece lies on those beneath it, or on the body, drawn `body_mm` thick.

    Pieces are laid flat, as if none bent over the edge of another. What is not measured is left out.
    """
    laid = _laid(faces.behind, y, (), 0.0)
    if faces.has_sheet:
        return Cut(_laid(faces.before, y, laid, 0.0), None)
    floor = max((band.top for band in laid), default=0.0)
    return Cut(_laid(faces.before, y, laid, floor + body_mm), (floor, floor + body_mm))


def faces_of(scene: Scene, plane: ScenePlane) -> Faces:
    """Give a plane with what lies on its back, told on the plane itself."""
    own = [item for item in plane.items if not item.from_other_face or item.is_sheet]
    if plane.plane.plane == "fold":
        round_it = tuple(item for item in own if item.function == "outer-guard")
        return Faces(plane, round_it, tuple(item for item in own if item.function != "outer-guard"))
    return Faces(plane, tuple(_on_the_back(scene, plane)), tuple(own))


def _on_the_back(scene: Scene, plane: ScenePlane) -> Iterator[SceneItem]:
    back = plane.plane.other_face
    other = scene.plane(back.plane) if back else None
    if back is None or other is None:
        return
    way = back.way.inverse()
    for item in reversed(other.items):
        if not item.is_sheet and not item.from_other_face and item.outline is not None:
            features = tuple(
                replace(trace, points=tuple(way.point(*point) for point in trace.points))
                for trace in item.features
            )
            yield replace(item, outline=way.shape(item.outline), features=features, from_other_face=True)


def _laid(items: Iterable[SceneItem], y: float, before: tuple[Band, ...], floor: float) -> tuple[Band, ...]:
    laid = list(before)
    for item in items:
        stretches = tuple(_stretches(item, y))
        if stretches:
            under = [band.top for band in laid if _meet(band.stretches, stretches)]
            base = max([floor, *under])
            thick = item.thickness or NOMINAL_MM
            laid.append(Band(item, stretches, base, base + thick, tuple(_holes(item, y))))
    return tuple(laid)


def _stretches(item: SceneItem, y: float) -> Iterator[tuple[float, float]]:
    if item.outline is None or not item.measured:
        return
    left, _, right, _ = item.outline.bounds
    cut = shapely.LineString([(left - 1, y), (right + 1, y)]).intersection(item.outline)
    for part in getattr(cut, "geoms", [cut]):
        if part.length > _TOUCH_MM:
            yield part.bounds[0], part.bounds[2]


def _meet(one: Iterable[tuple[float, float]], other: Iterable[tuple[float, float]]) -> bool:
    others = list(other)
    return any(
        left < to - _TOUCH_MM and start < right - _TOUCH_MM for left, right in one for start, to in others
    )


def _holes(item: SceneItem, y: float) -> Iterator[SceneFeature]:
    for feature in item.features:
        if len(feature.points) == 1 and feature.through and abs(feature.points[0][1] - y) <= IN_CUT_MM:
            yield feature


def telling_height(faces: Faces) -> float | None:
    """Give the height that cuts most pieces, of such the one in the middle; None if none is measured."""
    bounds = [item.outline.bounds for item in faces.items if item.measured and item.outline is not None]
    edges = sorted({edge for _, bottom, _, top in bounds for edge in (bottom, top)})
    between = [(low + high) / 2 for low, high in pairwise(edges)]
    if not between:
        return None
    middle = (faces.plane.bottom + faces.plane.top) / 2
    begun, ended = (sorted(bound[edge] for bound in bounds) for edge in (1, 3))
    counts = {y: bisect_left(begun, y) - bisect_right(ended, y) for y in between}
    return min(between, key=lambda y: (-counts[y], abs(y - middle)))
