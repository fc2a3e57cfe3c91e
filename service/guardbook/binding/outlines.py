"""The outline of a piece: in its own frame, and on the plane it lies on."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.planes import plane_name
from guardbook.binding.transforms import Affine, of_position
from guardbook.records.alteration import Alteration
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Position

# far past anything bound, near enough for floats to keep a hundredth of a millimetre
LARGEST_MM = 10**6
_PAST_REACH = re.compile(r"(?<![.\d])0*[1-9]\d{6}")


@dataclass(frozen=True)
class Shape:
    """The size of a piece at one time: height and width in mm, and its outline in WKT where it was drawn."""

    height: Decimal | None = None
    width: Decimal | None = None
    outline: str | None = None

    @property
    def polygon(self) -> BaseGeometry | None:
        """Give the outline in the piece's own frame, or the rectangle of its height and width, or None."""
        return _drawn(self.outline) if self.outline else _rectangle(self.width, self.height)

    @property
    def starts_at_its_origin(self) -> bool:
        """Say whether the outline touches x = 0 and y = 0, as a frame at its tail-left corner has it."""
        polygon = self.polygon
        return polygon is not None and polygon.bounds[:2] == (0, 0)

    @property
    def unusable(self) -> bool:
        """Say whether an outline was given that bounds no area."""
        return self.outline is not None and _drawn(self.outline) is None

    def mapping(self, position: Position) -> Affine | None:
        """Give the way from the piece's own frame to the plane, or None where too little is known."""
        plane = plane_name(position)
        reversed_plane = plane is not None and plane.is_seen_reversed
        return of_position(position, self._mirrored_width, reversed_plane=reversed_plane)

    @property
    def _mirrored_width(self) -> float | None:
        """Give what x and its mirror image add up to: the width, where the outline starts at 0."""
        if (polygon := self.polygon) is not None:
            return float(polygon.bounds[0] + polygon.bounds[2])
        return float(self.width) if self.width is not None else None

    def on_plane(self, position: Position) -> BaseGeometry | None:
        """Give the outline on the plane of a position, in mm, or None where too little is known."""
        polygon, mapping = self.polygon, self.mapping(position)
        return None if polygon is None or mapping is None else mapping.shape(polygon)


def shape_of(piece: Fragment) -> Shape:
    """Give the size of a piece as its record has it."""
    return Shape(piece.height, piece.width, piece.outline)


def altered(shape: Shape, alteration: Alteration) -> Shape:
    """Give the size after an alteration: what it gives is new, an old outline does not outlive a new size."""
    if alteration.outline:
        return Shape(alteration.height, alteration.width, alteration.outline)
    if alteration.height is None and alteration.width is None:
        return shape
    height = shape.height if alteration.height is None else alteration.height
    return Shape(height, shape.width if alteration.width is None else alteration.width)


def _rectangle(width: Decimal | None, height: Decimal | None) -> BaseGeometry | None:
    if not width or not height or max(width, height) > LARGEST_MM:
        return None
    return shapely.box(0, 0, float(width), float(height))


@lru_cache(maxsize=1024)
def _drawn(outline: str) -> BaseGeometry | None:
    """Read an outline; one that crosses itself is taken as the areas it closes."""
    if _PAST_REACH.search(outline):
        return None
    try:
        areas = shapely.make_valid(shapely.from_wkt(outline))
    except shapely.errors.ShapelyError:
        return None
    return areas if areas.area > 0 else None
