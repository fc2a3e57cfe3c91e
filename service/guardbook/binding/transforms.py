"""From a piece's own frame to the plane it lies on, and back.

A piece's own frame has its origin at the tail-left corner of its bounding box, its front face up. Lengths are
mm, angles degrees anticlockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from guardbook.records.placing import Position


@dataclass(frozen=True)
class Affine:
    """The mapping x' = a x + b y + x_off, y' = d x + e y + y_off."""

    a: float
    b: float
    d: float
    e: float
    x_off: float
    y_off: float

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Map one point.

        >>> of_frame(10, 20, rotation=90).point(3, 0)
        (10.0, 23.0)
        """
        return self.a * x + self.b * y + self.x_off, self.d * x + self.e * y + self.y_off

    def shape(self, geometry: BaseGeometry) -> BaseGeometry:
        """Map a geometry."""
        return shapely.transform(geometry, self._points)

    def _points(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        mapped: NDArray[np.float64] = points @ self._turned + (self.x_off, self.y_off)
        return mapped

    @cached_property
    def _turned(self) -> NDArray[np.float64]:
        return np.array([[self.a, self.d], [self.b, self.e]])

    def after(self, first: Affine) -> Affine:
        """Compose: the mapping that does `first`, then this one."""
        x_off, y_off = self.point(first.x_off, first.y_off)
        return Affine(
            self.a * first.a + self.b * first.d,
            self.a * first.b + self.b * first.e,
            self.d * first.a + self.e * first.d,
            self.d * first.b + self.e * first.e,
            x_off,
            y_off,
        )

    def inverse(self) -> Affine:
        """Give the way back. Raises ValueError if the mapping has flattened everything onto a line."""
        area = self.a * self.e - self.b * self.d
        if not area or not math.isfinite(area):
            raise ValueError("a mapping that keeps areas above zero (it cannot be undone)")
        a, b, d, e = self.e / area, -self.b / area, -self.d / area, self.a / area
        return Affine(a, b, d, e, -(a * self.x_off + b * self.y_off), -(d * self.x_off + e * self.y_off))


SAME = Affine(1, 0, 0, 1, 0, 0)
PLANE_MIRROR = Affine(-1, 0, 0, 1, 0, 0)


def shift(dx: float, dy: float) -> Affine:
    """Give the mapping that adds dx, dy (mm), as a cover registers on its text block."""
    return Affine(1, 0, 0, 1, dx, dy)


def of_frame(
    x: float, y: float, *, rotation: float = 0.0, scale: float = 1.0, mirrored_width: float | None = None
) -> Affine:
    """Give the mapping t + s R(rotation) M p, with t = (x, y).

    M mirrors about the vertical mid-line of a frame `mirrored_width` mm wide; it does nothing for None.
    """
    cos, sin = _cos_sin(rotation)
    turn = Affine(scale * cos, -scale * sin, scale * sin, scale * cos, x, y)
    return turn if mirrored_width is None else turn.after(Affine(-1, 0, 0, 1, mirrored_width, 0))


def _cos_sin(degrees: float) -> tuple[float, float]:
    """Give cosine and sine, exact at right angles so that straight edges stay straight."""
    quarters, rest = divmod(degrees, 90)
    if rest:
        return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]


def of_position(position: Position, width: float | None, *, reversed_plane: bool = False) -> Affine | None:
    """Give the mapping from a piece `width` mm wide to the plane of its position.

    On a plane whose +x runs to the viewer's left (`reversed_plane`) a face turned to the viewer is the
    mirrored one in coordinates, and anticlockwise as seen is clockwise in them. None where the position has
    no x and y, or where there is no width to mirror about.
    """
    turned = bool(position.mirrored) != reversed_plane
    if position.x is None or position.y is None or (turned and width is None):
        return None
    rotation = float(position.rotation or 0)
    mapping = of_frame(
        float(position.x),
        float(position.y),
        rotation=-rotation if reversed_plane else rotation,
        scale=float(position.scale or 1),
        mirrored_width=width if turned else None,
    )
    numbers = (mapping.a, mapping.b, mapping.x_off, mapping.y_off)
    return mapping if all(math.isfinite(number) for number in numbers) else None
