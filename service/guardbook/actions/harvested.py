"""What was harvested from other catalogues: which are followed, their records found, shown and dropped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

import pyoxigraph as ox

from guardbook import settings
from guardbook.actions.kind_words import kind_in_words
from guardbook.catalogue.access import Access
from guardbook.catalogue.harvested.store import Foreign, Origin, Taken
from guardbook.completeness.forms import label_anywhere
from guardbook.records import terms
from guardbook.records.base import natural_order
from guardbook.records.kinds import KINDS
from guardbook.records.mapping import RDF_TYPE, parse_canonical

MOST_FOUND = 50


@dataclass(frozen=True, kw_only=True)
class HarvestedHit:
    """A record of another catalogue that was found: where it is kept, and of whose catalogue it is."""

    iri: str
    kind: str
    title: str
    origin: str
    licence: str | None


@dataclass(frozen=True, kw_only=True)
class HarvestedLine:
    """One statement: of which part, the label of the field, the value in words, the record it names."""

    part: str
    label: str
    text: str
    iri: str | None


@dataclass(frozen=True, kw_only=True)
class HarvestedPart:
    """What is said of one part of a record; of the record itself where `name` is empty."""

    name: str
    lines: tuple[HarvestedLine, ...]


@dataclass(frozen=True, kw_only=True)
class HarvestedShown:
    """A record of another catalogue in words; it can be read here, and is changed only there."""

    record: Foreign
    kind: str
    parts: tuple[HarvestedPart, ...]


def list_origins(access: Access) -> tuple[Origin, ...]:
    """List the catalogues that are followed."""
    return access.elsewhere.origins()


def not_taken(access: Access, name: str) -> tuple[Taken, ...]:
    """List what could not be taken from a catalogue, by its number or feed. Raises NotFound."""
    return access.elsewhere.damaged(access.elsewhere.origin(name))


def drop_origin(access: Access, name: str) -> Origin:
    """Forget a catalogue, by its number or feed, with all its records.

    Raises NotFound naming those there are, NotAllowed for the public.
    """
    origin = access.elsewhere.origin(name)
    access.elsewhere.drop(origin)
    return origin


def find_harvested(access: Access, words: str, limit: int = MOST_FOUND) -> tuple[HarvestedHit, ...]:
    """Find records of other catalogues: every word is met by the beginning of a word, the best first."""
    return tuple(
        HarvestedHit(
            iri=found.iri,
            kind=found.kind,
            title=found.title,
            origin=found.origin_title,
            licence=found.licence,
        )
        for found in access.elsewhere.find(words, limit)
    )


def show_harvested(access: Access, iri: str, language: str = "en") -> HarvestedShown:
    """Show a record of another catalogue. Raises NotFound, and Gone where it was taken out there."""
    found = access.elsewhere.record(iri)
    lines = sorted(_lines(access, found, language), key=lambda line: natural_order(line.part))
    by_part = groupby(lines, key=lambda line: line.part)
    parts = tuple(HarvestedPart(name=name, lines=tuple(some)) for name, some in by_part)
    return HarvestedShown(record=found, kind=kind_in_words(KINDS[found.kind]), parts=parts)


def _lines(access: Access, found: Foreign, language: str) -> Iterator[HarvestedLine]:
    for quad in parse_canonical(found.body):
        if quad.predicate == RDF_TYPE or not isinstance(quad.subject, ox.NamedNode):
            continue
        part = quad.subject.value.partition("#")[2]
        text, iri = _value(access, quad.object, found.iri, language)
        # that the record has a part is shown by the part
        if part or not text.startswith("#"):
            name = quad.predicate.value.removeprefix(settings.NAMESPACE)
            yield HarvestedLine(part=part, label=label_anywhere(name, language), text=text, iri=iri)


def _value(access: Access, value: object, record_iri: str, language: str) -> tuple[str, str | None]:
    """Give a value in words, and the record it names if it does; a part of the record begins with `#`."""
    if isinstance(value, ox.Literal):
        return value.value, None
    iri = value.value if isinstance(value, ox.NamedNode) else ""
    if iri.startswith(settings.TERMS):
        scheme, _, slug = iri.removeprefix(settings.TERMS).partition("/")
        return terms.label(scheme, slug, language), None
    if iri.startswith(record_iri + "#"):
        return iri.removeprefix(record_iri), None
    if iri.startswith(settings.NAMESPACE):
        return iri.removeprefix(settings.NAMESPACE), None
    named = access.elsewhere.known(iri.partition("#")[0])
    return (named.title if named and not named.gone else iri), iri
