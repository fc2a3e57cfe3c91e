"""What to mind at the bench, shown where it applies; the texts and what they apply to are data."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.forms import text
from guardbook.completeness.shape_files import SHACL, own_statements

_APPLIES_TO = settings.NAMESPACE + "appliesTo"
_WORK_ON_OBJECTS = frozenset({"before-lifting", "after-lifting"})


def cautions_for(quads: Iterable[ox.Quad], stage: str) -> tuple[str, ...]:
    """Give the cautions for the methods, examinations, techniques and functions in a dossier, in order.

    Only the stages at which somebody handles the object have any.
    """
    if stage not in _WORK_ON_OBJECTS:
        return ()
    mentioned = {quad.object.value for quad in quads if isinstance(quad.object, ox.NamedNode)}
    return tuple(message for message, terms in _all_cautions() if terms & mentioned)


@lru_cache(maxsize=1)
def _all_cautions() -> tuple[tuple[str, frozenset[str]], ...]:
    found = sorted(
        (
            int(text(rows, SHACL + "order")),
            text(rows, SHACL + "message"),
            frozenset(node.value for node in rows[_APPLIES_TO] if isinstance(node, ox.NamedNode)),
        )
        for rows in own_statements("cautions").values()
    )
    return tuple((message, terms) for _, message, terms in found)
