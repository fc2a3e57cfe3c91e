"""What kind of picture a file is, by its content and not by its name."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from types import MappingProxyType
from typing import BinaryIO

from PIL import Image, UnidentifiedImageError

# what cameras and scanners give, and pages or IIIF readers can show or turn into what they can show
KINDS = MappingProxyType(
    {
        "JPEG": ("image/jpeg", ".jpg"),
        "MPO": ("image/jpeg", ".jpg"),
        "PNG": ("image/png", ".png"),
        "TIFF": ("image/tiff", ".tif"),
        "WEBP": ("image/webp", ".webp"),
    }
)
# several pictures in one file (MPO) begin as a JPEG does
FORMATS = ("JPEG", "PNG", "TIFF", "WEBP")


@dataclass(frozen=True)
class Recognised:
    """A picture's media type, the usual ending of its name, and its size in pixels."""

    media_type: str
    ending: str
    width_px: int
    height_px: int


def recognised(file: BinaryIO) -> Recognised | None:
    """Recognise a picture by how it begins; its pixels are not looked at. None for any other file."""
    file.seek(0)
    try:
        with warnings.catch_warnings():
            # a large photograph is only measured here
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(file, formats=FORMATS) as opened:
                media_type, ending = KINDS[str(opened.format)]
                return Recognised(media_type, ending, *opened.size)
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        return None
    finally:
        file.seek(0)
