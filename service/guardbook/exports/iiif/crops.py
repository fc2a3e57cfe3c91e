"""Which part of a picture shows a piece, how it is to be turned, and where on the plane it then lies."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.transforms import Affine
from guardbook.exports.iiif.faces import Picture
from guardbook.exports.iiif.space import Bounds

# finer than anyone lays a piece straight
STRAIGHT_DEGREES = 0.05


@dataclass(frozen=True)
class Crop:
    """The part of a picture that shows a piece: `region` in pixels from the top left.

    `bounds` is where it falls on the plane, in mm, once it is turned upright.
    """

    picture: Picture
    region: tuple[int, int, int, int]
    bounds: Bounds

    @property
    def is_whole(self) -> bool:
        """Say whether it is the whole picture."""
        image = self.picture.image
        return self.region == (0, 0, image.pixel_width, image.pixel_height)

    @property
    def region_words(self) -> str:
        """Write the region as IIIF has it: `40,40,88,1000`."""
        return ",".join(str(number) for number in self.region)

    def turn(self, to_canvas: Affine) -> str:
        """Say how to turn the picture: degrees clockwise, after `!` where it is to be mirrored first.

        Source: IIIF Image API 3.0, section 4.3 (Rotation). `to_canvas` is the way from the plane to the
        canvas. A picture that is skewed too is turned as its rows run.
        """
        way = to_canvas.after(self.picture.way)
        mirrored = way.a * way.e - way.b * way.d < 0
        degrees = math.degrees(math.atan2(-way.d, -way.a) if mirrored else math.atan2(way.d, way.a)) % 360
        if min(degrees, 360 - degrees) < STRAIGHT_DEGREES:
            degrees = 0.0
        return f"{'!' if mirrored else ''}{degrees:.2f}".rstrip("0").rstrip(".")


def crop_of(picture: Picture, outline: BaseGeometry) -> Crop | None:
    """Cut a picture to what an outline on the plane (mm) encloses; None where it shows nothing of it."""
    try:
        to_pixels = picture.way.inverse()
    except ValueError:
        return None
    wanted = [round(edge) for edge in to_pixels.shape(outline).bounds]
    image = picture.image
    left, top = max(wanted[0], 0), max(wanted[1], 0)
    right = min(wanted[2], image.pixel_width or wanted[2])
    bottom = min(wanted[3], image.pixel_height or wanted[3])
    if right <= left or bottom <= top:
        return None
    exact = [left, top, right, bottom] == wanted and _runs_with_the_axes(picture.way)
    seen = outline if exact else picture.way.shape(shapely.box(left, top, right, bottom))
    return Crop(picture, (left, top, right - left, bottom - top), seen.bounds)


def _runs_with_the_axes(way: Affine) -> bool:
    """Say whether the rows of a picture run along an axis of the plane."""
    least = math.sin(math.radians(STRAIGHT_DEGREES))
    return min(abs(way.a), abs(way.d)) <= least * math.hypot(way.a, way.d)
