"""A picture made smaller, for lists and for pages."""

from __future__ import annotations

import io
import warnings
from functools import lru_cache
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

WIDTHS_PX = (160, 320, 640, 1280)
MEDIA_TYPE = "image/jpeg"


def smaller(path: Path, width_px: int) -> bytes | None:
    """Give a picture as JPEG, upright, at most so many pixels wide and four times as high.

    None for a file that cannot be read as a picture, or holds too many pixels to be taken apart safely.
    Raises ValueError for a width that is none of `WIDTHS_PX`.
    """
    if width_px not in WIDTHS_PX:
        raise ValueError(f"Expected one of {WIDTHS_PX}, found {width_px}.")
    found = path.stat()
    return _smaller(path, width_px, found.st_mtime_ns, found.st_size)


@lru_cache(maxsize=256)
def _smaller(path: Path, width_px: int, _changed: int, _size: int) -> bytes | None:
    output = io.BytesIO()
    try:
        with warnings.catch_warnings():
            # what is so large that it may be meant to fill the memory is not opened
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path) as opened:
                opened.draft("RGB", (width_px, 4 * width_px))
                upright = ImageOps.exif_transpose(opened)
                upright.thumbnail((width_px, 4 * width_px))
                # Pillow would carry a comment over, which is nobody's business
                _on_white(upright).save(output, "JPEG", quality=82, optimize=True, comment="")
    except (
        UnidentifiedImageError,
        OSError,
        ValueError,
        SyntaxError,
        Image.DecompressionBombWarning,
        Image.DecompressionBombError,
    ):
        return None
    return output.getvalue()


def _on_white(picture: Image.Image) -> Image.Image:
    """Put what can be seen through on white."""
    if not picture.has_transparency_data:
        return picture.convert("RGB")
    seen_through = picture.convert("RGBA")
    white = Image.new("RGB", picture.size, "white")
    white.paste(seen_through, mask=seen_through.getchannel("A"))
    return white
