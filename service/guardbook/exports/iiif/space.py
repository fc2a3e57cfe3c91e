"""From millimetres on a plane to the whole numbers of a canvas, and how large its units really are.

Source: IIIF, *Linking to External Services*, section 3.3 (Physical Dimensions): width and height times
`physicalScale` are the size of what is shown, in `physicalUnits`, which are mm, cm or in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing.svg import NAMESPACE, mark, path_of
from guardbook.binding.transforms import Affine

# a tenth of a millimetre is as fine as one measures at the bench
UNITS_PER_MM = 10
PHYSICAL_DIMENSIONS = "http://iiif.io/api/annex/services/physdim"

Bounds = tuple[float, float, float, float]


class Box(NamedTuple):
    """A rectangle on a canvas, in its units from the top left."""

    x: int
    y: int
    width: int
    height: int

    @property
    def fragment(self) -> str:
        """Write it as a media fragment.

        >>> Box(10, 0, 25, 40).fragment
        'xywh=10,0,25,40'
        """
        return f"xywh={self.x},{self.y},{self.width},{self.height}"


@dataclass(frozen=True, kw_only=True)
class Space:
    """The part of a plane that a canvas shows, by its edges in mm.

    `seen_reversed` where the +x of the plane runs to the viewer's left.
    """

    left: float
    bottom: float
    right: float
    top: float
    seen_reversed: bool = False

    @property
    def width(self) -> int:
        """Give the width of the canvas."""
        return _units(self.right - self.left)

    @property
    def height(self) -> int:
        """Give the height of the canvas."""
        return _units(self.top - self.bottom)

    @property
    def way(self) -> Affine:
        """Give the way from the plane (mm) to the canvas (its units, y down)."""
        n = UNITS_PER_MM
        if self.seen_reversed:
            return Affine(-n, 0, 0, -n, self.right * n, self.top * n)
        return Affine(n, 0, 0, -n, -self.left * n, self.top * n)

    def box(self, bounds: Bounds) -> Box:
        """Give the rectangle on the canvas of bounds on the plane: left, bottom, right, top in mm."""
        left, top, right, bottom = self.way.shape(shapely.box(*bounds)).bounds
        x, y = (min(max(round(edge), 0), size - 1) for edge, size in ((left, self.width), (top, self.height)))
        far_x, far_y = min(round(right), self.width), min(round(bottom), self.height)
        return Box(x, y, max(far_x - x, 1), max(far_y - y, 1))

    def outline(self, shape: BaseGeometry) -> str:
        """Draw an outline on the plane as the SVG of a selector, in the units of the canvas."""
        drawn = mark("path", d=path_of(self.way.shape(shape)), fill_rule="evenodd")
        return mark("svg", drawn, xmlns=NAMESPACE, width=self.width, height=self.height)


def space_around(bounds: list[Bounds], *, seen_reversed: bool) -> Space:
    """Give the space that holds all these bounds."""
    left, bottom, right, top = zip(*bounds, strict=True)
    return Space(
        left=min(left), bottom=min(bottom), right=max(right), top=max(top), seen_reversed=seen_reversed
    )


def physical_dimensions(manifest: str) -> dict[str, str | float]:
    """Give the service that tells how large a unit of a canvas is."""
    return {
        # Presentation 3 would have it at the top of the document, but the annex requires it here
        "@context": f"{PHYSICAL_DIMENSIONS}/1/context.json",
        "id": f"{manifest}#physical-dimensions",
        "type": "PhysicalDimensions",
        "profile": PHYSICAL_DIMENSIONS,
        "physicalScale": 1 / UNITS_PER_MM,
        "physicalUnits": "mm",
    }


def _units(length_mm: float) -> int:
    return max(math.ceil(round(length_mm * UNITS_PER_MM, 6)), 1)
