"""The part of a plane that a drawing shows, and where its millimetres fall on the paper."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.transforms import Affine


@dataclass(frozen=True, kw_only=True)
class Window:
    """A part of a plane (mm), its top left corner at `x`, `y` on the paper (mm, y downwards).

    `reversed` is true where +x runs to the viewer's left. `stretch` is how many times heights are drawn
    larger than they are: 1, but in a section.
    """

    left: float
    bottom: float
    right: float
    top: float
    x: float = 0.0
    y: float = 0.0
    reversed: bool = False
    stretch: float = 1.0

    @property
    def width(self) -> float:
        """Give its width on paper."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Give its height on paper."""
        return (self.top - self.bottom) * self.stretch

    @cached_property
    def way(self) -> Affine:
        """Give the way from the plane to the paper."""
        down = -self.stretch
        if self.reversed:
            return Affine(-1, 0, 0, down, self.x + self.right, self.y + self.top * self.stretch)
        return Affine(1, 0, 0, down, self.x - self.left, self.y + self.top * self.stretch)

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Give where a point of the plane falls on paper.

        >>> Window(left=-50, bottom=0, right=50, top=200, x=10, y=20).at(0, 200)
        (60, 20.0)
        """
        return self.way.point(x, y)

    def shape(self, geometry: BaseGeometry) -> BaseGeometry:
        """Give a geometry of the plane as it falls on paper."""
        return self.way.shape(geometry)

    @property
    def area(self) -> BaseGeometry:
        """Give the window itself as an area on paper."""
        return shapely.box(self.x, self.y, self.x + self.width, self.y + self.height)
