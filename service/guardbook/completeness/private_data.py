"""Private data in public fields: names of people who may not be named, and what is for the workshop only.

This looks across records and into running text, so no shape can say it; what it asks for stands with the
shapes of the last stage all the same. Rule: people are named only with consent, places of keeping, contacts
and valuations are never public (common practice, no published source).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import pyoxigraph as ox

from guardbook import settings
from guardbook.completeness.dossier import Dossier
from guardbook.completeness.finding import VIOLATION, WARNING, Finding
from guardbook.completeness.paths import Path
from guardbook.completeness.shape_files import SHAPES
from guardbook.records.fields import all_models, fields_of
from guardbook.records.values import XSD

_OWN = settings.NAMESPACE
_SHORTEST = 4

_VISIBLE = {
    (model.__name__, field.predicate): field.visible for model in all_models() for field in fields_of(model)
}


@dataclass(frozen=True)
class _Secret:
    """Something that may not be read in public, the record it is from, and how sure a match would be."""

    pattern: re.Pattern[str]
    record: str
    severity: str


def findings(quads: Iterable[ox.Quad]) -> Iterator[Finding]:
    """Find public texts that hold a name that may not be named or a value that is for the workshop only.

    A whole name or value is a violation; the last word of a name, which may mean something else, a warning.
    """
    known = list(quads)
    dossier = Dossier(known)
    secrets = [*_names(dossier), *_workshop_only(known, dossier)]
    for quad in known if secrets else ():
        record = _subject(quad).partition("#")[0]
        if not (_text(quad) and _visible(quad, dossier) == "public" and _is_public(record, dossier)):
            continue
        found = {one.severity for one in secrets if one.record != record and one.pattern.search(_text(quad))}
        if found:
            yield _finding(quad, VIOLATION if VIOLATION in found else WARNING)


def _names(dossier: Dossier) -> Iterator[_Secret]:
    """Give the names, and their last words, of the people who have not agreed to be named."""
    for agent in dossier.of_model("Agent"):
        if dossier.one(agent, "mayBeNamed") in {"true", "1"}:
            continue
        for name in {*dossier.values(agent, "name"), *dossier.values(agent, "title")}:
            yield _Secret(_whole_words(name, re.IGNORECASE), agent, VIOLATION)
            last = name.split()[-1]
            if len(last) >= _SHORTEST:
                yield _Secret(_whole_words(last), agent, WARNING)


def _workshop_only(quads: Iterable[ox.Quad], dossier: Dossier) -> Iterator[_Secret]:
    """Give shelf places, contacts and valuations; private notes are sentences and are not looked for."""
    for quad in quads:
        text = _text(quad)
        named = quad.predicate.value.removeprefix(_OWN)
        if len(text) >= _SHORTEST and named != "privateNote" and _visible(quad, dossier) == "workshop":
            yield _Secret(_whole_words(text), "", VIOLATION)


def _whole_words(text: str, flags: int = 0) -> re.Pattern[str]:
    words = r"\s+".join(re.escape(word) for word in text.split())
    return re.compile(rf"(?<!\w){words}(?!\w)", flags)


def _subject(quad: ox.Quad) -> str:
    return quad.subject.value if isinstance(quad.subject, ox.NamedNode) else ""


def _text(quad: ox.Quad) -> str:
    """Give the running text a statement holds, or an empty text where its object is something else."""
    value = quad.object
    return value.value if isinstance(value, ox.Literal) and value.datatype.value == XSD + "string" else ""


def _visible(quad: ox.Quad, dossier: Dossier) -> str:
    return _VISIBLE.get((dossier.model(_subject(quad)), quad.predicate.value), "")


def _is_public(record: str, dossier: Dossier) -> bool:
    """Say whether the public may see the record at all."""
    if dossier.model(record) == "Agent" and dossier.one(record, "mayBeNamed") not in {"true", "1"}:
        return False
    return dossier.one(record, "visibility").rpartition("/")[2] in {"", "public"}


def _finding(quad: ox.Quad, severity: str) -> Finding:
    return Finding(
        focus=_subject(quad),
        path=Path("", quad.predicate.value),
        severity=severity,
        component=_OWN + "PrivateDataConstraintComponent",
        shape=SHAPES + "ready-to-share-privateData",
    )
