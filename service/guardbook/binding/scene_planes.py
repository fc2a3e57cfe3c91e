"""One plane of a volume at a stage: its edges, and every piece, station, fold and gap on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.binding.named_areas import Panel
from guardbook.binding.plane_keys import plane_key
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import (
    SceneFeature,
    SceneFold,
    SceneGap,
    SceneItem,
    SceneStation,
    all_json,
)
from guardbook.records.base import camel


@dataclass(frozen=True, kw_only=True)
class ScenePlane:
    """One flat face of the volume: its edges (mm), and what lies on it from the farthest to the nearest.

    `limits_from` says where the edges come from: `stated` for the plane or for the one on its back, `size`
    of the volume, or `pieces`, the pieces on it with a margin. `stations` lie at their y on this plane, where
    it is known how cover and text block lay on each other. `panels` are those of the spine, from the head.
    `half_spine` is half the width of the text block on its back, which linings may reach beyond.
    `gaps` are where pieces were before, `cut_later` the parts of pieces that were there still.
    """

    plane: PlaneName
    left: float
    bottom: float
    right: float
    top: float
    limits_from: str
    items: tuple[SceneItem, ...] = ()
    stations: tuple[SceneStation, ...] = ()
    panels: tuple[Panel, ...] = ()
    half_spine: float | None = None
    gaps: tuple[SceneGap, ...] = ()
    cut_later: tuple[SceneGap, ...] = ()

    @property
    def edges_known(self) -> bool:
        """Say whether the edges are those of the volume, and not only where the pieces on it end."""
        return self.limits_from not in {"pieces", "nothing"}

    @property
    def words(self) -> str:
        """Say which plane it is, as a heading: `The inside of the cover`."""
        return self.plane.heading

    @property
    def features(self) -> tuple[SceneFeature, ...]:
        """Give the traces on the cover, board or leaf itself, those seen through from its other face too."""
        return tuple(feature for item in self.items if item.is_sheet for feature in item.features)

    @property
    def folds(self) -> tuple[SceneFold, ...]:
        """Give the lines along which cover and pieces fold when the volume is closed."""
        return tuple(fold for item in self.items for fold in item.folds if fold.kind != "fold")

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
            "key": plane_key(self.plane),
            "plane": self.plane.plane,
            **{camel(name): getattr(self.plane, name) for name in self.plane.axes.named_by},
            "words": self.words,
            "left": round(self.left, 2),
            "bottom": round(self.bottom, 2),
            "right": round(self.right, 2),
            "top": round(self.top, 2),
            "limitsFrom": self.limits_from,
            "seenReversed": self.plane.is_seen_reversed,
            "items": all_json(self.items),
            "stations": all_json(self.stations),
            "panels": [panel._asdict() for panel in self.panels],
            "folds": all_json(self.folds),
            "gaps": all_json(self.gaps),
            "cutLater": all_json(self.cut_later),
        }
