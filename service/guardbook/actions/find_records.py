"""Find records by words, kind and facets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from guardbook.actions.kind_words import kinds_in_words
from guardbook.actions.settle_standing import NOTHING_YET, settle_standing
from guardbook.catalogue.access import Access, Found
from guardbook.catalogue.facets import facet_schemes
from guardbook.completeness.forms import label_anywhere
from guardbook.errors import Fault, NotFound, WrongUse
from guardbook.records import terms
from guardbook.records.kinds import KINDS
from guardbook.wording import _, language, ngettext

MOST_AT_ONCE = 1000
LONGEST_SEARCH = 500
# as long as one waits without noticing; a change or two is worked out in less
PATIENCE_SECONDS = 0.4


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
    patience_seconds: float | None = PATIENCE_SECONDS,
) -> Found:
    """Give the records that hold all the words, the best first, and how many there are by facet.

    Where pieces are now, how complete records are and whether there are pictures of them is worked out for
    what changed, for as long as the patience lasts (None: to the end). Raises WrongUse for a kind that
    there is not, or for a slice of the list that makes no sense.
    """
    faults = []
    if len(words) > LONGEST_SEARCH:
        faults.append(_too_long(len(words)))
    if kind is not None and kind not in KINDS:
        faults.append(
            Fault(where="kind", found=repr(kind), expected=_("one of {names}").format(names=", ".join(KINDS)))
        )
    if not 1 <= limit <= MOST_AT_ONCE:
        faults.append(
            Fault(where="limit", found=str(limit), expected=_("1 to {most}").format(most=MOST_AT_ONCE))
        )
    if offset < 0:
        faults.append(Fault(where="offset", found=str(offset), expected=_("0 or more")))
    if faults:
        raise WrongUse(message=_("The search could not be understood."), faults=tuple(faults))
    if patience_seconds != 0:
        settle_standing(access, patience_seconds)
    return access.find(words, kind=kind, facets=facets or {}, limit=limit, offset=offset)


def _too_long(characters: int) -> Fault:
    found = ngettext("{count} character", "{count} characters", characters).format(count=characters)
    return Fault(where="words", found=found, expected=_("at most {most}").format(most=LONGEST_SEARCH))


def facets_in_words(access: Access, found: Found) -> tuple[Facet, ...]:
    """Give the facets of what was found with labels, those with most records first."""
    facets = [
        Facet(
            name=name,
            label=facet_label(name),
            values=tuple(
                FacetValue(value=value, label=facet_value_in_words(access, name, value), count=count)
                for value, count in counts.items()
            ),
        )
        for name, counts in found.facets.items()
    ]
    return tuple(sorted(facets, key=lambda facet: (-sum(value.count for value in facet.values), facet.name)))


def facet_label(name: str) -> str:
    """Give what a facet is called, in the language now spoken."""
    return _own_labels().get(name) or label_anywhere(name, language())


def facet_value_in_words(access: Access, name: str, value: str) -> str:
    """Give what a value of a facet is called, in the language now spoken."""
    if scheme := facet_schemes().get(name):
        return terms.label(scheme, value, language())
    if name == "kind" and value in KINDS:
        return kinds_in_words(KINDS[value])
    if not value.startswith(("http://", "https://")):
        return _own_values().get((name, value), value)
    try:
        return access.record(value).record.display_title
    except NotFound:
        return value


def _own_labels() -> dict[str, str]:
    return {
        "kind": _("What it is"),
        "date": _("Date"),
        "whereNow": _("Where it is now"),
        "completeFor": _("Complete for"),
        "hasImage": _("Picture"),
    }


def _own_values() -> dict[tuple[str, str], str]:
    return {
        ("whereNow", "in-volume"): _("in its volume"),
        ("whereNow", "kept-with-volume"): _("kept with its volume"),
        ("whereNow", "kept"): _("kept apart"),
        ("whereNow", "lost"): _("lost"),
        ("whereNow", "destroyed"): _("destroyed"),
        ("whereNow", "unknown"): _("not known"),
        ("completeFor", NOTHING_YET): _("no stage yet"),
        ("completeFor", "on-sight"): _("on sight"),
        ("completeFor", "before-lifting"): _("before lifting"),
        ("completeFor", "after-lifting"): _("after lifting"),
        ("completeFor", "ready-to-share"): _("ready to share"),
        ("hasImage", "yes"): _("with a picture"),
        ("hasImage", "no"): _("without a picture"),
    }
