"""Drawings as PNG, for where SVG is not wanted."""

from __future__ import annotations

import re

import font_source_sans_pro
import resvg_py

from guardbook.errors import WrongUse
from guardbook.wording import _

LEAST_PX, MOST_PX, MOST_IN_ALL = 60, 10_000, 100_000_000
# one CSS pixel is 1/96 inch (CSS Values 3, clause 5.2), which the renderer needs for sizes in mm
_DPI = 96.0
_SIZE = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')
_FONTS = ("SourceSansPro", "SourceSansProBold")


def png_of(svg: str, width_px: int = 1200) -> bytes:
    """Render one of our drawings as PNG, `width_px` pixels wide.

    Its text is set in a font that comes with the program; what that has no signs for, in those of the system.
    Raises WrongUse for a width that is too small to show anything, or too large to hold.
    """
    size = _SIZE.search(svg)
    if size is None:
        raise WrongUse(message=_("Only drawings made here can be made into PNG: this one has no viewBox."))
    high = float(size[2]) / float(size[1]) * width_px
    if not LEAST_PX <= width_px <= MOST_PX or width_px * high > MOST_IN_ALL:
        raise WrongUse(
            message=_(
                "Expected a width of {least} to {most} pixels, and no more than {millions} million pixels in "
                "all, found {width} x {height}. Ask for a smaller width, or take the SVG, which has no size "
                "of its own."
            ).format(
                least=LEAST_PX,
                most=MOST_PX,
                millions=MOST_IN_ALL // 1_000_000,
                width=width_px,
                height=f"{high:.0f}",
            )
        )
    return resvg_py.svg_to_bytes(
        svg_string=svg,
        width=width_px,
        dpi=_DPI,
        background="#fff",
        font_files=[font_source_sans_pro.font_files_ttf[name] for name in _FONTS],
        sans_serif_family="Source Sans Pro",
    )
