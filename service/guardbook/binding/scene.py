"""A volume at one stage as one data structure: its planes, and every piece in place on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.binding.contradictions import Contradiction
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import (
    SceneFeature,
    SceneFold,
    SceneGap,
    SceneItem,
    SceneStation,
    all_json,
)
from guardbook.binding.transforms import Affine


@dataclass(frozen=True, kw_only=True)
class ScenePlane:
    """One flat face of the volume: its edges (mm), and what lies on it from the farthest to the nearest.

    `limits_from` says where the edges come from: `stated` for the plane or for the one on its back, `size`
    of the volume, or `pieces`, the pieces on it with a margin. `stations` lie at their y on this plane, where
    it is known how cover and text block lay on each other. `folds` are those of the cover or of pieces that
    go on past an edge.
    """

    plane: PlaneName
    left: float
    bottom: float
    right: float
    top: float
    limits_from: str
    items: tuple[SceneItem, ...] = ()
    stations: tuple[SceneStation, ...] = ()
    folds: tuple[SceneFold, ...] = ()
    gaps: tuple[SceneGap, ...] = ()

    @property
    def limits_stated(self) -> bool:
        """Say whether the edges were stated in the record of the volume."""
        return self.limits_from == "stated"

    @property
    def words(self) -> str:
        """Say which plane it is, as a heading: `The inside of the cover`."""
        _, _, phrase = self.plane.phrase.partition(" ")
        return phrase[:1].upper() + phrase[1:]

    @property
    def features(self) -> tuple[SceneFeature, ...]:
        """Give the traces on the cover, board or leaf itself, those seen through from its other face too."""
        return tuple(feature for item in self.items if item.is_sheet for feature in item.features)

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Give left, bottom, right, top of the plane and all that lies on it."""
        outlines = [*(item.outline for item in self.items), *(gap.outline for gap in self.gaps)]
        bounds = [outline.bounds for outline in outlines if outline is not None]
        left, bottom, right, top = zip((self.left, self.bottom, self.right, self.top), *bounds, strict=True)
        return min(left), min(bottom), max(right), max(top)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "plane": self.plane.plane,
            **{name: getattr(self.plane, name) for name in self.plane.axes.named_by},
            "words": self.words,
            "left": round(self.left, 2),
            "bottom": round(self.bottom, 2),
            "right": round(self.right, 2),
            "top": round(self.top, 2),
            "limitsFrom": self.limits_from,
            "seenReversed": self.plane.is_seen_reversed,
            "items": all_json(self.items),
            "stations": all_json(self.stations),
            "folds": all_json(self.folds),
            "gaps": all_json(self.gaps),
        }


@dataclass(frozen=True, kw_only=True)
class SceneSize:
    """The size of the volume in mm, as far as it is known: its leaves, text block and spine."""

    height: float | None = None
    width: float | None = None
    thickness: float | None = None
    spine_width: float | None = None


@dataclass(frozen=True, kw_only=True)
class SceneGathering:
    """A gathering of the text block: its number from the front, its leaves, its thickness in mm."""

    number: int
    leaf_count: int | None = None
    thickness: float | None = None


@dataclass(frozen=True, kw_only=True)
class SceneRegistration:
    """How the cover lies on the text block: `dx`, `dy` (mm) are added to coordinates on the cover's outside.

    `of_stage` is the stage it is stated for, which is the last before where the stage itself has none.
    """

    dx: float
    dy: float
    certainty: str | None = None
    of_stage: int | None = None

    @property
    def way(self) -> Affine:
        """Give the way from the outside of the cover to the back of the text block."""
        return Affine(1, 0, 0, 1, self.dx, self.dy)


@dataclass(frozen=True, kw_only=True)
class SceneStage:
    """One of the stages of the volume, in words."""

    number: int
    words: str
    when: str | None = None


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A volume at a stage: planes with what lies on them, what has no place, and what cannot all be true.

    `stages` are all stages of the volume, so that one can go on to the next.
    """

    host: str
    name: str
    stage: int
    stage_words: str
    stages: tuple[SceneStage, ...]
    size: SceneSize
    gatherings: tuple[SceneGathering, ...]
    registration: SceneRegistration | None
    planes: tuple[ScenePlane, ...]
    unplaced: tuple[SceneItem, ...] = ()
    unplaced_gaps: tuple[SceneGap, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()

    def plane(self, name: PlaneName) -> ScenePlane | None:
        """Give a plane of the scene, or None if nothing is known of it."""
        return next((found for found in self.planes if found.plane == name), None)

    def of_piece(self, iri: str) -> tuple[SceneItem, ...]:
        """Give a piece wherever it is in the scene, those without a place too."""
        everywhere = (*(item for plane in self.planes for item in plane.items), *self.unplaced)
        return tuple(item for item in everywhere if item.piece == iri)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; lengths in mm."""
        return {
            "host": self.host,
            "name": self.name,
            "stage": self.stage,
            "stageWords": self.stage_words,
            "stages": [vars(stage) for stage in self.stages],
            "size": vars(self.size),
            "gatherings": [vars(gathering) for gathering in self.gatherings],
            "registration": vars(self.registration) if self.registration else None,
            "planes": [plane.as_json() for plane in self.planes],
            "unplaced": all_json(self.unplaced),
            "unplacedGaps": all_json(self.unplaced_gaps),
            "contradictions": [clash.as_json() for clash in self.contradictions],
        }
