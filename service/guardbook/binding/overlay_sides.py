"""One of two bindings laid over each other: its plane, what it should have left there, what it covered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import shapely

from guardbook.binding.expected_traces import FOLD_MM, Expected
from guardbook.binding.overlay_parts import CoveredArea, OverlaySide
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.stations_in_use import COVER_PLANES, SPINE_PLANES
from guardbook.binding.transforms import PLANE_MIRROR, SAME, Affine, shift


@dataclass(frozen=True)
class Used:
    """A volume at a stage, seen on one plane; `way` leads from that plane to the frame of the overlay.

    `shared` is the piece that registers the two, as it lies on this plane; None where there is none.
    """

    key: str
    scene: Scene
    plane: ScenePlane
    way: Affine
    shared: SceneItem | None = None

    @property
    def on_cover(self) -> bool:
        """Say whether the plane is one of the cover's two faces."""
        return self.plane.plane.plane in COVER_PLANES

    @cached_property
    def _seen_half_spine(self) -> float | None:
        """Give half the distance of the two joints that were seen on the cover, or None."""
        joints = [abs(fold.points[0][0]) for fold in self.plane.folds if fold.kind == "joint" and fold.seen]
        return sum(joints) / 2 if len(joints) == 2 else None

    @cached_property
    def joints_seen(self) -> bool:
        """Say whether the spine was folded for another width than the volume has: one of another time."""
        seen, sized = self._seen_half_spine, self.scene.size.half_spine
        return seen is not None and (sized is None or abs(seen - sized) > FOLD_MM)

    @property
    def half_spine(self) -> float | None:
        """Give half the width of the spine at this stage in mm, or None."""
        return self._seen_half_spine if self.joints_seen else self.scene.size.half_spine

    @property
    def square(self) -> float:
        """Give how far the cover reaches past the leaves at the tail, 0 where that is not recorded."""
        registration = self.scene.registration
        return max(0.0, -registration.dy) if registration and self.on_cover else 0.0

    @property
    def expected(self) -> Expected:
        """Work out what the volume should have left on the plane, in the plane's own coordinates."""
        half, size = self.half_spine, self.scene.size
        return Expected(
            half_spine=half,
            tail=0.0,
            head=size.height + 2 * self.square if size.height else None,
            fore_edge=half + size.width + self.square if self.on_cover and half and size.width else None,
            stations=self.plane.stations,
            pieces=tuple(item for item in self._others if item.measured),
            joints_seen=self.joints_seen,
        )

    @property
    def _others(self) -> tuple[SceneItem, ...]:
        without = self.shared.piece if self.shared else None
        return tuple(item for item in self.plane.items if item.piece != without)

    @property
    def side(self) -> OverlaySide:
        """Give it as a side of the overlay, its other pieces in the frame."""
        return OverlaySide(
            key=self.key,
            host=self.scene.host,
            name=self.scene.name,
            stage=self.scene.stage,
            stage_words=self.scene.stage_words,
            plane=self.plane.plane,
            way=self.way,
            items=tuple(_moved(item, self.way) for item in self._others),
        )

    def covered(self) -> Iterator[CoveredArea]:
        """Give what the text block would have covered of the frame: behind its spine and on either side."""
        half, size = self.half_spine, self.scene.size
        if half is None or not size.height or self.plane.plane.plane not in SPINE_PLANES:
            return
        parts = {"spine": (-half, half)}
        if size.width and self.on_cover:
            parts |= {"upper": (half, half + size.width), "lower": (-half - size.width, -half)}
        way = self.way.after(self._from_text_block)
        for part, (left, right) in parts.items():
            outline = way.shape(shapely.box(left, 0, right, size.height))
            yield CoveredArea(side=self.key, part=part, outline=outline)

    @property
    def _from_text_block(self) -> Affine:
        """Give the way from the back of the text block; where it is not recorded, tail on tail edge."""
        if not self.on_cover:
            return SAME
        registration = self.scene.registration
        there = shift(-registration.dx, -registration.dy) if registration else SAME
        return PLANE_MIRROR.after(there) if self.plane.plane.plane == "cover-inside" else there


def moved_trace(trace: SceneFeature, way: Affine) -> SceneFeature:
    """Give a trace on another plane."""
    return replace(trace, points=tuple(way.point(*point) for point in trace.points))


def _moved(item: SceneItem, way: Affine) -> SceneItem:
    if way == SAME:
        return item
    return replace(
        item,
        outline=None if item.outline is None else way.shape(item.outline),
        way=item.way and way.after(item.way),
        image_way=item.image_way and way.after(item.image_way),
        features=tuple(moved_trace(trace, way) for trace in item.features),
        folds=(),
    )
