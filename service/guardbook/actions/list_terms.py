"""The trade terms of this catalogue: their lists, one list, and any of it as Turtle."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import NotFound
from guardbook.records import terms
from guardbook.wording import _


@dataclass(frozen=True, kw_only=True)
class TermList:
    """A list of terms: its slug, its name in the language now spoken, its address, how many it holds."""

    scheme: str
    name: str
    iri: str
    count: int


@dataclass(frozen=True, kw_only=True)
class Term:
    """One trade term with its labels by language, its other names, its definition and its broader term."""

    scheme: str
    slug: str
    iri: str
    labels: Mapping[str, str]
    other_labels: tuple[str, ...]
    definition: str
    note: str
    broader: str | None


def list_schemes() -> tuple[TermList, ...]:
    """Give every list of terms, by slug."""
    return tuple(
        TermList(
            scheme=scheme,
            name=terms.scheme_label(scheme),
            iri=f"{settings.TERMS}{scheme}",
            count=len(found),
        )
        for scheme, found in sorted(terms.all_concepts().items())
    )


def terms_of(scheme: str) -> tuple[Term, ...]:
    """Give the terms of a list, by slug. Raises NotFound naming the lists there are."""
    return tuple(_told(concept) for _, concept in sorted(_list(scheme).items()))


def term_named(scheme: str, slug: str) -> Term:
    """Give one term. Raises NotFound naming near ones."""
    found = _list(scheme)
    if slug not in found:
        near = ", ".join(terms.near(scheme, slug) or sorted(found)[:3])
        message = _("The list {list} has no term {term}. Near ones: {terms}.")
        raise NotFound(message=message.format(list=repr(scheme), term=repr(slug), terms=near))
    return _told(found[slug])


def narrower_than(scheme: str, slug: str) -> tuple[Term, ...]:
    """Give the terms directly below a term."""
    return tuple(term for term in terms_of(scheme) if term.broader == slug)


def terms_in_turtle(scheme: str, slug: str | None = None) -> bytes:
    """Give a list, or one term of it, as Turtle. Raises NotFound as the others do."""
    wanted = terms_of(scheme) if slug is None else (term_named(scheme, slug),)
    subjects = {term.iri for term in wanted} | ({f"{settings.TERMS}{scheme}"} if slug is None else set())
    found = [
        quad.triple
        for folder in terms.folders()
        for path in sorted(folder.glob("*.ttl"))
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE)
        if isinstance(quad.subject, ox.NamedNode) and quad.subject.value in subjects
    ]
    output = io.BytesIO()
    ox.serialize(found, output, ox.RdfFormat.TURTLE, prefixes={"skos": terms.SKOS})
    return output.getvalue()


def _list(scheme: str) -> Mapping[str, terms.Concept]:
    found = terms.all_concepts().get(scheme)
    if found is None:
        names = ", ".join(sorted(terms.all_concepts()))
        message = _("There is no list of terms {list}. The lists are: {lists}.")
        raise NotFound(message=message.format(list=repr(scheme), lists=names))
    return found


def _told(concept: terms.Concept) -> Term:
    return Term(
        scheme=concept.scheme,
        slug=concept.slug,
        iri=concept.iri,
        labels=dict(concept.labels),
        other_labels=concept.other_labels,
        definition=concept.definition,
        note=concept.note,
        broader=concept.broader,
    )
