"""What two bindings laid over each other are made of: traces, what accounts for them, the table.

Lengths are mm, coordinates those of one plane of the first volume (the frame).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Any

from shapely.geometry.base import BaseGeometry

from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import (
    Point,
    SceneFeature,
    SceneItem,
    affine_json,
    all_json,
    outline_json,
)
from guardbook.binding.transforms import Affine

SIDES = ("a", "b")
# what can be said of a trace, in the order in which it is told
ACCOUNTED = (*SIDES, "both", "neither")


@dataclass(frozen=True, kw_only=True)
class OverlaySide:
    """One of the two: a volume at a stage, its plane, and the way from that plane to the frame.

    `items` are the pieces on that plane at that stage other than the shared one, in the frame.
    """

    key: str
    host: str
    name: str
    stage: int
    stage_words: str
    plane: PlaneName
    way: Affine
    items: tuple[SceneItem, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "key": self.key,
            "host": self.host,
            "name": self.name,
            "stage": self.stage,
            "stageWords": self.stage_words,
            "plane": self.plane.plane,
            "way": affine_json(self.way),
            "items": all_json(self.items),
        }


@dataclass(frozen=True, kw_only=True)
class Fit:
    """One reason why a trace belongs to a side: what of that volume it lies at, and how far off, in mm."""

    side: str
    words: str
    off_mm: float

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {"side": self.side, "words": self.words, "offMm": round(self.off_mm, 1)}


@dataclass(frozen=True, kw_only=True)
class OverlayFeature:
    """A trace of the shared piece, in the frame, and which of the two uses accounts for it.

    `stated` are the sides that the record itself names as the use of its series, `fits` what of either volume
    it lies at by measure. `accounted` is a, b, both or neither: what is stated, else what fits.
    """

    feature: SceneFeature
    stated: tuple[str, ...] = ()
    fits: tuple[Fit, ...] = ()

    @property
    def fitting(self) -> tuple[str, ...]:
        """Give the sides it fits by measure."""
        return tuple(side for side in SIDES if any(fit.side == side for fit in self.fits))

    @property
    def accounted(self) -> str:
        """Say which use accounts for it: a, b, both or neither."""
        sides = self.stated or self.fitting
        return {(): "neither", ("a",): "a", ("b",): "b"}.get(sides, "both")

    @property
    def disagrees(self) -> bool:
        """Say whether it fits by measure a use only that the record does not state."""
        return bool(self.stated and self.fitting) and not set(self.stated) & set(self.fitting)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            **self.feature.as_json(),
            "stated": list(self.stated),
            "fits": [fit.as_json() for fit in self.fits],
            "accounted": self.accounted,
            "disagrees": self.disagrees,
        }


@dataclass(frozen=True, kw_only=True)
class CoveredArea:
    """What a text block would have covered of the frame: `part` is spine, upper or lower."""

    side: str
    part: str
    outline: BaseGeometry

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {"side": self.side, "part": self.part, "outline": outline_json(self.outline)}


@dataclass(frozen=True, kw_only=True)
class RowPair:
    """Two rows of holes along the spine, `apart_mm` apart, their holes at the same heights.

    `as_wide_as` are the sides whose spine is as wide as that; `features` the holes of both rows, `holes` how
    many there are in each.
    """

    rows: tuple[tuple[Point, Point], tuple[Point, Point]]
    holes: tuple[int, int]
    apart_mm: float
    features: tuple[str, ...]
    as_wide_as: tuple[str, ...]
    words: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "rows": [[list(point) for point in row] for row in self.rows],
            "apartMm": round(self.apart_mm, 1),
            "features": list(self.features),
            "asWideAs": list(self.as_wide_as),
            "words": self.words,
        }


@dataclass(frozen=True, kw_only=True)
class OverlayRow:
    """One line of the table beside the drawing, in words."""

    feature: str
    what: str
    where: str
    series: str
    use_a: str
    use_b: str
    accounted: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "feature": self.feature,
            "what": self.what,
            "where": self.where,
            "series": self.series,
            "useA": self.use_a,
            "useB": self.use_b,
            "accounted": self.accounted,
        }


@dataclass(frozen=True, kw_only=True)
class Overlay:
    """Two volumes at one stage each, or one volume at two stages, laid over each other in one plane.

    `registered_by` is the piece they share, whose frame is common to both; None where they share none, and
    lie on each other by the origins of their planes, which `words` says. `shared` is that piece in the frame.
    """

    a: OverlaySide
    b: OverlaySide
    registered_by: str | None
    words: str
    shared: SceneItem | None
    features: tuple[OverlayFeature, ...]
    covered: tuple[CoveredArea, ...]
    row_pairs: tuple[RowPair, ...]
    rows: tuple[OverlayRow, ...]

    @property
    def neither(self) -> tuple[OverlayFeature, ...]:
        """Give the traces that neither use accounts for."""
        return tuple(found for found in self.features if found.accounted == "neither")

    def showing(self, uses: Collection[str]) -> Overlay:
        """Leave out the traces that others than these account for; rows keep their numbers."""
        kept = tuple(found for found in self.features if found.accounted in uses)
        there = {found.feature.id for found in kept}
        pairs = tuple(pair for pair in self.row_pairs if there.issuperset(pair.features))
        return replace(self, features=kept, row_pairs=pairs)

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Give left, bottom, right, top of all that is in the frame."""
        items = [*([self.shared] if self.shared else []), *self.a.items, *self.b.items]
        outlines = [item.outline for item in items if item.outline is not None]
        bounds = [outline.bounds for outline in (*outlines, *(area.outline for area in self.covered))]
        left, bottom, right, top = (
            zip(*bounds, strict=True) if bounds else ((0.0,), (0.0,), (100.0,), (100.0,))
        )
        return min(left), min(bottom), max(right), max(top)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "a": self.a.as_json(),
            "b": self.b.as_json(),
            "registeredBy": self.registered_by,
            "words": self.words,
            "shared": self.shared.as_json() if self.shared else None,
            "features": [found.as_json() for found in self.features],
            "covered": [area.as_json() for area in self.covered],
            "rowPairs": [pair.as_json() for pair in self.row_pairs],
            "rows": [row.as_json() for row in self.rows],
        }
