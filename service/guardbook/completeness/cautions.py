"""What to mind at the bench, shown where it applies; the texts and what they apply to are data."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.forms import text
from guardbook.completeness.shape_files import SHACL, own_statements
from guardbook.wording import _

_APPLIES_TO = settings.NAMESPACE + "appliesTo"
# words, in lower case, that call for a caution where the record of a piece says them
_WHERE_SAID = settings.NAMESPACE + "whereSaid"
_WORK_ON_OBJECTS = frozenset({"before-lifting", "after-lifting"})


def cautions_for(quads: Iterable[ox.Quad], stage: str) -> tuple[str, ...]:
    """Give the cautions for the methods, examinations, techniques and functions in a dossier, in order.

    Only the stages at which somebody handles the object have any.
    """
    if stage not in _WORK_ON_OBJECTS:
        return ()
    mentioned = {quad.object.value for quad in quads if isinstance(quad.object, ox.NamedNode)}
    return tuple(_(message) for message, terms, _said in _all_cautions() if terms & mentioned)


def cautions_about(terms: Iterable[str], text: str = "") -> tuple[str, ...]:
    """Give the cautions for some terms (IRIs) and for what a text mentions, in order."""
    wanted, words = frozenset(terms), text.casefold()
    return tuple(
        _(message)
        for message, applies, said in _all_cautions()
        if applies & wanted or any(word in words for word in said)
    )


@lru_cache(maxsize=1)
def _all_cautions() -> tuple[tuple[str, frozenset[str], tuple[str, ...]], ...]:
    found = sorted(
        (
            int(text(rows, SHACL + "order")),
            text(rows, SHACL + "message"),
            frozenset(node.value for node in rows[_APPLIES_TO] if isinstance(node, ox.NamedNode)),
            tuple(node.value for node in rows.get(_WHERE_SAID, ()) if isinstance(node, ox.Literal)),
        )
        for rows in own_statements("cautions").values()
    )
    return tuple((message, terms, said) for _order, message, terms, said in found)
