"""Draw the leaves of a carrier, its known pieces set out on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

from guardbook.actions.rejoin_carrier import rejoin_carrier
from guardbook.binding.drawing.leaf import draw_leaf
from guardbook.binding.drawing.look import Look
from guardbook.binding.leaf_parts import Rejoined
from guardbook.catalogue.access import Access


@dataclass(frozen=True)
class LeavesDrawn:
    """A rejoined carrier, and its leaves drawn in the same order when they are first asked for."""

    rejoined: Rejoined
    look: Look

    @cached_property
    def svgs(self) -> tuple[str, ...]:
        """Draw each leaf, as SVG."""
        return _svgs(self.rejoined, self.look)

    def narrow(self, id_prefix: str | None = None) -> tuple[str, ...]:
        """Draw the same for a screen as narrow as a phone's."""
        return _svgs(self.rejoined, replace(self.look, narrow=True, name=id_prefix))


def draw_rejoined(
    access: Access,
    name: str,
    *,
    narrow: bool = False,
    link: Callable[[str], str] | None = None,
    id_prefix: str | None = None,
) -> LeavesDrawn:
    """Rejoin a carrier and draw its leaves; what is asked for and raised is as in `rejoin_carrier`.

    `narrow` and `link` are as in `draw_stage`; the ids of each leaf begin with `id_prefix` and its number.
    """
    found = rejoin_carrier(access, name)
    return LeavesDrawn(found, Look(narrow=narrow, link=link, name=id_prefix))


def _svgs(found: Rejoined, look: Look) -> tuple[str, ...]:
    """Draw each leaf; where several stand in one page, the ids of each begin with its number too."""
    return tuple(
        draw_leaf(found, leaf, replace(look, name=f"{look.name}-{at}" if look.name else None))
        for at, leaf in enumerate(found.leaves, start=1)
    )
