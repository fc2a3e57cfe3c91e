"""Find records by words, kind and facets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guardbook.catalogue.access import Access, Found
from guardbook.catalogue.facets import facet_schemes
from guardbook.completeness.forms import form_of
from guardbook.errors import Fault, NotFound, WrongUse
from guardbook.records import terms
from guardbook.records.fields import all_models
from guardbook.records.kinds import KINDS

MOST_AT_ONCE = 1000
LONGEST_SEARCH = 500


@dataclass(frozen=True, kw_only=True)
class FacetValue:
    """One value of a facet in words, and how many of the records found have it."""

    value: str
    label: str
    count: int


@dataclass(frozen=True, kw_only=True)
class Facet:
    """A way to narrow down what was found: its JSON name and label, its values, the most frequent first."""

    name: str
    label: str
    values: tuple[FacetValue, ...]


def find_records(
    access: Access,
    words: str = "",
    *,
    kind: str | None = None,
    facets: Mapping[str, str] | None = None,
    limit: int = 20,
    offset: int = 0,
) -> Found:
    """Give the records that hold all the words, the best first, and how many there are by facet.

    Raises WrongUse for a kind that there is not, or for a slice of the list that makes no sense.
    """
    faults = []
    if len(words) > LONGEST_SEARCH:
        faults.append(
            Fault(where="words", found=f"{len(words)} characters", expected=f"at most {LONGEST_SEARCH}")
        )
    if kind is not None and kind not in KINDS:
        faults.append(Fault(where="kind", found=repr(kind), expected=f"one of {', '.join(KINDS)}"))
    if not 1 <= limit <= MOST_AT_ONCE:
        faults.append(Fault(where="limit", found=str(limit), expected=f"1 to {MOST_AT_ONCE}"))
    if offset < 0:
        faults.append(Fault(where="offset", found=str(offset), expected="0 or more"))
    if faults:
        raise WrongUse(message="The search could not be understood.", faults=tuple(faults))
    return access.find(words, kind=kind, facets=facets or {}, limit=limit, offset=offset)


def facets_in_words(access: Access, found: Found, language: str = "en") -> tuple[Facet, ...]:
    """Give the facets of what was found with labels, those with most records first."""
    facets = [
        Facet(
            name=name,
            label=_label_of(name, language),
            values=tuple(
                FacetValue(value=value, label=_value_in_words(access, name, value, language), count=count)
                for value, count in counts.items()
            ),
        )
        for name, counts in found.facets.items()
    ]
    return tuple(sorted(facets, key=lambda facet: (-sum(value.count for value in facet.values), facet.name)))


def _label_of(name: str, language: str) -> str:
    forms = (form_of(model.__name__, name) for model in all_models())
    return next((form.label(language) for form in forms if form), name)


def _value_in_words(access: Access, name: str, value: str, language: str) -> str:
    if scheme := facet_schemes().get(name):
        return terms.label(scheme, value, language)
    if not value.startswith(("http://", "https://")):
        return value
    try:
        return access.record(value).record.display_title
    except NotFound:
        return value
