"""QR codes (ISO/IEC 18004) that lead to a record by its IRI."""

from __future__ import annotations

import io
from functools import lru_cache

import segno

# a quarter of the modules may be soiled or torn and the code can still be read (level Q)
_LEVEL = "q"
# modules of white round it that readers need (ISO/IEC 18004, 6.3.8, from memory)
_QUIET_MODULES = 4


@lru_cache(maxsize=512)
def qr_svg(text: str) -> str:
    """Give the QR code of a text as SVG without a size of its own, the quiet zone with it."""
    made = io.BytesIO()
    code = segno.make(text, error=_LEVEL, boost_error=False, micro=False)
    code.save(
        made, kind="svg", border=_QUIET_MODULES, omitsize=True, xmldecl=False, nl=False, svgclass=None,
        lineclass=None,
    )  # fmt: skip
    return made.getvalue().decode()
