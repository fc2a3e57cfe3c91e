"""Draw the leaves of a carrier, its known pieces set out on them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from guardbook.actions.rejoin_carrier import rejoin_carrier
from guardbook.binding.drawing.leaf import draw_leaf
from guardbook.binding.drawing.look import Look
from guardbook.binding.leaf_parts import Rejoined
from guardbook.catalogue.access import Access


@dataclass(frozen=True)
class LeavesDrawn:
    """A rejoined carrier, and the SVG of each of its leaves in the same order."""

    rejoined: Rejoined
    svgs: tuple[str, ...]


def draw_rejoined(
    access: Access,
    name: str,
    known_text: str | None = None,
    *,
    narrow: bool = False,
    link: Callable[[str], str] | None = None,
    id_prefix: str | None = None,
) -> LeavesDrawn:
    """Rejoin a carrier and draw its leaves; what is asked for and raised is as in `rejoin_carrier`.

    `narrow` and `link` are as in `draw_stage`; the ids of each leaf begin with `id_prefix` and its number.
    """
    found = rejoin_carrier(access, name, known_text)
    svgs = [
        draw_leaf(
            found, leaf, Look(narrow=narrow, link=link, name=f"{id_prefix}-{at}" if id_prefix else None)
        )
        for at, leaf in enumerate(found.leaves, start=1)
    ]
    return LeavesDrawn(found, tuple(svgs))
