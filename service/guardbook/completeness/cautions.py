"""What to mind at the bench, shown where it applies; the texts and what they apply to are data."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.forms import text
from guardbook.completeness.shape_files import SHACL, own_statements
from guardbook.records import terms
from guardbook.wording import _, language

_APPLIES_TO = settings.NAMESPACE + "appliesTo"
# words that call for a caution where a record says them; a star stands for any ending or beginning
_WHERE_SAID = settings.NAMESPACE + "whereSaid"
_WORK_ON_OBJECTS = frozenset({"before-lifting", "after-lifting"})
# what is written on the object, or in it, and what is said of people, says nothing of what it is made of
_NOT_OF_THE_OBJECT = frozenset(
    settings.NAMESPACE + name
    for name in ("firstWords", "readingText", "textIdentified", "content", "citation", "authority")
)


@dataclass(frozen=True, kw_only=True)
class _Caution:
    """A caution: its text, the terms it is for, and the pattern of words that call for it, if any."""

    message: str
    terms: frozenset[str]
    said: re.Pattern[str] | None


def cautions_for(quads: Iterable[ox.Quad], stage: str) -> tuple[str, ...]:
    """Give the cautions for what a dossier names and says, in order, each with why it is shown.

    Only the stages at which somebody handles the object have any.
    """
    return cautions_about((), quads) if stage in _WORK_ON_OBJECTS else ()


def cautions_about(also: Iterable[str], quads: Iterable[ox.Quad]) -> tuple[str, ...]:
    """Give the cautions for some terms (IRIs) and for all that some records name and say, in order.

    It rather warns once too often: a word counts in any of the six languages, and of whatever part of a
    piece or volume it is said.
    """
    quads = tuple(quads)
    named = {*also, *(quad.object.value for quad in quads if isinstance(quad.object, ox.NamedNode))}
    texts = [*_texts(quads)]
    return tuple(
        _shown(one, why)
        for one in _all_cautions()
        if (why := [*_by_terms(one, named), *_by_words(one, texts)]) or one.terms & named
    )


def _texts(quads: Iterable[ox.Quad]) -> Iterator[tuple[str, str]]:
    """Give all that is said of the object, each with its record in short."""
    for quad in quads:
        if isinstance(quad.object, ox.Literal) and quad.predicate.value not in _NOT_OF_THE_OBJECT:
            record = str(quad.subject).strip("<>").partition("#")[0]
            yield "/".join(record.rsplit("/", 2)[-2:]), quad.object.value


def _by_terms(caution: _Caution, named: Iterable[str]) -> Iterator[str]:
    """Name the terms a caution is shown for; that something is taken out at all needs no telling."""
    for iri in sorted(caution.terms.intersection(named)):
        if iri.startswith(settings.TERMS):
            scheme, _slash, slug = iri.removeprefix(settings.TERMS).partition("/")
            yield terms.label(scheme, slug, language())


def _by_words(caution: _Caution, texts: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Quote the first word of each record that a caution is shown for."""
    found: dict[str, str] = {}
    for record, said in texts:
        if caution.said and record not in found and (match := caution.said.search(terms.folded(said))):
            found[record] = _as_written(said, match)
    for record, word in found.items():
        yield _("“{word}” [{record}]").format(word=word, record=record)


def _as_written(said: str, match: re.Match[str]) -> str:
    """Give the words of a match as they were written."""
    first, last = (match.string.count(" ", 0, place) for place in match.span())
    words = said.replace("-", " ").replace("_", " ").split()[first : last + 1]
    return " ".join(words).strip(".,;:!?()[]“”„«»\"'")


def _shown(caution: _Caution, why: Iterable[str]) -> str:
    reasons = "; ".join(dict.fromkeys(why))
    if not reasons:
        return _(caution.message)
    return _("{caution} Shown because of: {reasons}.").format(caution=_(caution.message), reasons=reasons)


@lru_cache(maxsize=1)
def _all_cautions() -> tuple[_Caution, ...]:
    rows = sorted(own_statements("cautions").values(), key=lambda one: int(text(one, SHACL + "order")))
    return tuple(
        _Caution(
            message=text(one, SHACL + "message"),
            terms=frozenset(node.value for node in one[_APPLIES_TO] if isinstance(node, ox.NamedNode)),
            said=_pattern(node.value for node in one.get(_WHERE_SAID, ()) if isinstance(node, ox.Literal)),
        )
        for one in rows
    )


def _pattern(words: Iterable[str]) -> re.Pattern[str] | None:
    r"""Make a pattern of whole words; compared are words without accents and in small letters.

    >>> pattern = _pattern(["verd", "*grün"])
    >>> [bool(pattern.search(terms.folded(word))) for word in ("Verd.", "giftgrün", "verdict", "Grund")]
    [True, True, False, False]
    """
    ways = [re.escape(terms.folded(word)).replace(r"\*", r"\w*").replace(r"\ ", r"\W+") for word in words]
    return re.compile(rf"(?<!\w)(?:{'|'.join(sorted(ways))})(?!\w)") if ways else None
