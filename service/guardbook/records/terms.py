"""Trade terms: SKOS concepts read once from the Turtle in `shapes/terms/` and the workshop's own folder.

A concept is `<https://w3id.org/guardbook/terms/SCHEME/SLUG>`; in JSON and in the models it is its slug.
"""

from __future__ import annotations

import difflib
import unicodedata
from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

import pyoxigraph as ox

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.wording import _
from guardbook.wording import language as spoken

SKOS = "http://www.w3.org/2004/02/skos/core#"


@dataclass(frozen=True, kw_only=True)
class Concept:
    """One trade term: its labels by language, its definition, its broader term."""

    scheme: str
    slug: str
    labels: MappingProxyType[str, str]
    other_labels: tuple[str, ...] = ()
    definition: str = ""
    note: str = ""
    broader: str | None = None

    @property
    def iri(self) -> str:
        """Give the concept's IRI."""
        return f"{settings.TERMS}{self.scheme}/{self.slug}"

    def label(self, language: str = "en") -> str:
        """Give the label in a language, or in English, or the slug in words."""
        return self.labels.get(language) or self.labels.get("en") or self.slug.replace("-", " ")


@dataclass
class _Draft:
    labels: dict[str, str] = field(default_factory=dict)
    others: list[str] = field(default_factory=list)
    definition: str = ""
    note: str = ""
    broader: str | None = None
    is_concept: bool = False


def folded(text: str) -> str:
    """Fold case, accents and runs of space or hyphens away, for comparing what people write.

    >>> folded("Reforç  del LLOM")
    'reforc del llom'
    """
    plain = unicodedata.normalize("NFKD", text.replace("-", " ").replace("_", " "))
    plain = "".join(mark for mark in plain if not unicodedata.combining(mark))
    return " ".join(plain.casefold().split())


def _read(path: Path, drafts: dict[str, _Draft]) -> None:
    try:
        quads = list(ox.parse(path=str(path), format=ox.RdfFormat.TURTLE))
    except (SyntaxError, OSError) as error:
        told = _("{file} cannot be read: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error
    for quad in quads:
        if isinstance(quad.subject, ox.NamedNode) and quad.subject.value.startswith(settings.TERMS):
            _note(drafts[quad.subject.value.removeprefix(settings.TERMS)], quad)


def _note(draft: _Draft, quad: ox.Quad) -> None:
    value = quad.object
    match quad.predicate.value.removeprefix(SKOS):
        case "prefLabel" if isinstance(value, ox.Literal):
            draft.labels[value.language or "en"] = value.value
        case "altLabel" if isinstance(value, ox.Literal):
            draft.others.append(value.value)
        case "definition" if isinstance(value, ox.Literal):
            draft.definition = value.value
        case "scopeNote" if isinstance(value, ox.Literal):
            draft.note = value.value
        case "broader" if isinstance(value, ox.NamedNode):
            draft.broader = value.value.rpartition("/")[2]
        case "inScheme":
            draft.is_concept = True


def folders() -> tuple[Path, ...]:
    """Give the folders whose Turtle files hold terms: ours, and the workshop's own."""
    here = settings.current()
    return (here.shapes / "terms", *filter(None, [here.workshop_shapes]))


@lru_cache(maxsize=1)
def _drafts() -> dict[str, _Draft]:
    drafts: dict[str, _Draft] = defaultdict(_Draft)
    ours, *others = folders()
    for path in sorted(ours.glob("*.ttl")):
        _read(path, drafts)
    for path in (path for folder in others for path in sorted(folder.glob("*.ttl"))):
        with suppress(BrokenShapes):
            _read(path, drafts)
    return dict(drafts)


@lru_cache(maxsize=1)
def all_concepts() -> MappingProxyType[str, MappingProxyType[str, Concept]]:
    """Give every concept by scheme and slug. Raises BrokenShapes naming a file of ours that cannot be read.

    One of the workshop's that cannot be read is passed over; the checks of completeness name it.
    """
    schemes: dict[str, dict[str, Concept]] = defaultdict(dict)
    for key, draft in sorted(_drafts().items()):
        scheme, _, slug = key.partition("/")
        if slug and draft.is_concept:
            schemes[scheme][slug] = Concept(
                scheme=scheme,
                slug=slug,
                labels=MappingProxyType(draft.labels),
                other_labels=tuple(sorted(draft.others)),
                definition=draft.definition,
                note=draft.note,
                broader=draft.broader,
            )
    return MappingProxyType({name: MappingProxyType(found) for name, found in schemes.items()})


def forget() -> None:
    """Read the terms anew when they are next asked for."""
    for cached in (_drafts, all_concepts, _by_label):
        cached.cache_clear()


def scheme_label(scheme: str) -> str:
    """Give the name of a scheme in the language now spoken, in English, or its slug in words."""
    known = _drafts().get(scheme, _Draft()).labels
    return known.get(spoken()) or known.get("en") or scheme.replace("-", " ")


def of_scheme(scheme: str) -> MappingProxyType[str, Concept]:
    """Give the concepts of a scheme by slug; none for a scheme that is not known."""
    return all_concepts().get(scheme, MappingProxyType({}))


def concept(scheme: str, slug: str) -> Concept:
    """Give one concept. Raises KeyError if there is none."""
    return all_concepts()[scheme][slug]


def label(scheme: str, slug: str, language: str | None = None) -> str:
    """Give a concept's label in a language (None: the one now spoken), or the slug of an unknown term."""
    found = of_scheme(scheme).get(slug)
    return found.label(language or spoken()) if found else slug


@lru_cache(maxsize=256)
def _by_label(scheme: str) -> MappingProxyType[str, str]:
    found: dict[str, str] = {}
    for slug, term in of_scheme(scheme).items():
        for text in (slug, *term.labels.values(), *term.other_labels):
            found.setdefault(folded(text), slug)
    return MappingProxyType(found)


def slug_for(scheme: str, text: str) -> str | None:
    """Find the term that a label in any language, another name or a slug stands for, or None."""
    return _by_label(scheme).get(folded(text))


def near(scheme: str, text: str) -> tuple[str, ...]:
    """Suggest up to three slugs whose names are near to what was written."""
    names = _by_label(scheme)
    close = difflib.get_close_matches(folded(text), names, n=8, cutoff=0.55)
    contained = [name for name in names if folded(text) and folded(text) in name]
    return tuple(dict.fromkeys(names[name] for name in [*close, *contained]))[:3]
