"""The fonts of papers: those that come with the program, none of the system, so that all print alike.

Libertinus Serif (with Greek, Cyrillic, Hebrew) and DejaVu Sans Mono (with Arabic) come with Typst, Source
Sans with a package of its own; all three are under open licences, and are put into the PDF.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import font_source_sans_pro
import typst

SERIF, SANS = "Libertinus Serif", "Source Sans Pro"


@lru_cache(maxsize=1)
def fonts() -> typst.Fonts:
    """Give the fonts, read once."""
    folder = Path(font_source_sans_pro.font_files_ttf["SourceSansPro"]).parent
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[folder])
