"""Draw two stages laid over each other."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from functools import cached_property

from guardbook.actions.lay_over import lay_over
from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.overlay import draw_overlay
from guardbook.binding.drawing.png import png_of
from guardbook.binding.overlay_parts import ACCOUNTED, Overlay
from guardbook.catalogue.access import Access


@dataclass(frozen=True)
class OverlayDrawn:
    """Two bindings laid over each other, and the drawing, whose numbers are those of the overlay's rows.

    `uses` are those whose traces are drawn.
    """

    overlay: Overlay
    look: Look
    uses: Collection[str] = ACCOUNTED

    @cached_property
    def svg(self) -> str:
        """Draw it, as SVG."""
        return draw_overlay(self.overlay.showing(self.uses), self.look)

    def narrow(self, id_prefix: str | None = None) -> str:
        """Draw the same for a screen as narrow as a phone's."""
        look = replace(self.look, narrow=True, name=id_prefix)
        return draw_overlay(self.overlay.showing(self.uses), look)

    def png(self, width_px: int = 1200) -> bytes:
        """Give the drawing as PNG. Raises WrongUse for a width that cannot be made."""
        return png_of(self.svg, width_px)


def draw_laid_over(
    access: Access,
    a: str,
    b: str,
    *,
    stage_a: int | None = None,
    stage_b: int | None = None,
    plane: str | None = None,
    uses: Collection[str] = ACCOUNTED,
    narrow: bool = False,
    link: Callable[[str], str] | None = None,
    id_prefix: str | None = None,
) -> OverlayDrawn:
    """Lay two volumes over each other and draw them; what is asked for and raised is as in `lay_over`.

    Only the traces that one of `uses` accounts for are drawn (of a, b, both, neither). `narrow`, `link` and
    `id_prefix` are as in `draw_stage`.
    """
    overlay = lay_over(access, a, b, stage_a=stage_a, stage_b=stage_b, plane=plane)
    return OverlayDrawn(overlay, Look(narrow=narrow, link=link, name=id_prefix), uses)
