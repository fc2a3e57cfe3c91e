"""What records are sorted by: one row for each thing a record says of itself, or of the piece it places."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from types import MappingProxyType

from guardbook.records import terms
from guardbook.records.base import Model, Part, Record
from guardbook.records.dates import bounds
from guardbook.records.fields import all_models, fields_of
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.records.values import Scheme

FACET_FIELDS = frozenset(
    (
        "alteration_kind",
        "animal",
        "binding_kind",
        "book_format",
        "carrier",
        "carrier_kind",
        "extent",
        "feature_kind",
        "fixings",
        "function",
        "host",
        "housing",
        "keeper",
        "material",
        "moment",
        "move_kind",
        "notation",
        "original_to_assembly",
        "place_made",
        "script",
        "separation_kind",
        "strength",
        "technique",
        "text_languages",
        "text_place",
        "visibility",
        "visible_in_place",
    )
)
DATE_FIELDS = ("date_made", "binding_date", "text_date", "when")
OPEN_BEFORE, OPEN_AFTER = -(10**9), 10**9

Row = tuple[str, str, str]


def facet_rows(record: Record) -> frozenset[Row]:
    """Give the facet rows of a record, as (IRI it is said of, name of the facet, value).

    A placing that took place also says of the piece its function and host, and of the host the function;
    a separation says of the piece how it was separated. Places are told by name, references by IRI.
    """
    own = frozenset((record.id, name, value) for name, value in _said(record))
    return own | frozenset(_said_of_others(record))


def _said(model: Model) -> Iterator[tuple[str, str]]:
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        for item in value if field.many else (value,):
            if isinstance(item, Part):
                yield from _said(item)
            elif item is not None and field.name in FACET_FIELDS:
                yield field.json_name, str(item)


def _said_of_others(record: Record) -> Iterator[Row]:
    match record:
        case Placing(status=status) if status != "planned":
            yield record.piece, "host", record.host
            if record.function:
                yield record.piece, "function", record.function
                yield record.host, "function", record.function
        case Separation(status=status) if status != "planned" and record.separation_kind:
            yield record.piece, "separationKind", record.separation_kind


@lru_cache(maxsize=1)
def facet_schemes() -> dict[str, str | None]:
    """Give the facets by name, each with the list its values are terms of, or None."""
    found: dict[str, str | None] = {}
    for field in (field for model in all_models() for field in fields_of(model)):
        if field.name in FACET_FIELDS:
            found[field.json_name] = field.marker.name if isinstance(field.marker, Scheme) else None
    return found


def with_narrower(name: str, value: str) -> tuple[str, ...]:
    """Give a facet's value and every narrower term, so that spine linings include panel linings."""
    scheme = facet_schemes().get(name)
    concepts = terms.all_concepts().get(scheme or "", MappingProxyType({})).values()
    found = [value]
    for wider in found:
        found += [term.slug for term in concepts if term.broader == wider and term.slug not in found]
    return tuple(found)


def span(record: Record) -> tuple[int, int] | None:
    """Give the earliest and latest day of a record's own date, as year * 10000 + month * 100 + day."""
    date = next((text for name in DATE_FIELDS if (text := getattr(record, name, None))), None)
    return span_of(date) if date else None


def span_of(date: str) -> tuple[int, int]:
    """Give the same of an EDTF date; an open side reaches beyond every day.

    Raises ValueError if it is no EDTF date.
    """
    limits = bounds(date)
    earliest, latest = limits.earliest, limits.latest
    return (
        earliest[0] * 10000 + earliest[1] * 100 + earliest[2] if earliest else OPEN_BEFORE,
        latest[0] * 10000 + latest[1] * 100 + latest[2] if latest else OPEN_AFTER,
    )
