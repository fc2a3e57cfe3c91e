"""The trade terms hold together: each is named in six languages, defined, and told from its neighbours."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.records import terms
from guardbook.records.fields import all_models, fields_of
from guardbook.records.values import Scheme
from guardbook.wording import LANGUAGES

RDF_TYPE = "http://www.w3.org/1999/02/22-rdf-syntax-ns#type"
SKOS_TERMS = {
    "Concept", "ConceptScheme", "altLabel", "broader", "definition", "inScheme", "notation", "prefLabel",
    "scopeNote", "topConceptOf",
}  # fmt: skip
FILES = sorted((settings.current().shapes / "terms").glob("*.ttl"))
QUADS = [quad for path in FILES for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE)]
Label = tuple[str, str, str]  # scheme, text, slug


def skos(name: str) -> ox.NamedNode:
    return ox.NamedNode(terms.SKOS + name)


def of_type(name: str) -> set[ox.NamedNode]:
    return {
        quad.subject
        for quad in QUADS
        if quad.predicate.value == RDF_TYPE
        and quad.object == skos(name)
        and isinstance(quad.subject, ox.NamedNode)
    }


SCHEMES, CONCEPTS = of_type("ConceptScheme"), of_type("Concept")
VALUES: dict[tuple[ox.NamedNode, str], list[ox.Literal | ox.NamedNode]] = defaultdict(list)
for _quad in QUADS:
    if isinstance(_quad.subject, ox.NamedNode) and isinstance(_quad.object, ox.Literal | ox.NamedNode):
        VALUES[_quad.subject, _quad.predicate.value.removeprefix(terms.SKOS)].append(_quad.object)


def values(subject: ox.NamedNode, name: str) -> list[ox.Literal | ox.NamedNode]:
    return VALUES.get((subject, name), [])


def languages(subject: ox.NamedNode, name: str) -> list[str | None]:
    return [value.language for value in values(subject, name) if isinstance(value, ox.Literal)]


def scheme_and_slug(concept: ox.NamedNode) -> tuple[str, str]:
    scheme, _, slug = concept.value.removeprefix(settings.TERMS).partition("/")
    return scheme, slug


def names_of(concept: ox.NamedNode) -> list[str]:
    labels = values(concept, "prefLabel") + values(concept, "altLabel")
    return [label.value for label in labels] + [scheme_and_slug(concept)[1]]


def ambiguous(labels: Iterable[Label]) -> dict[tuple[str, str], set[str]]:
    """Give the names that stand for more than one term of a scheme, as a spreadsheet's cells are matched."""
    meant: dict[tuple[str, str], set[str]] = defaultdict(set)
    for scheme, text, slug in labels:
        meant[scheme, terms.folded(text)].add(slug)
    return {name: slugs for name, slugs in meant.items() if len(slugs) > 1}


def above(concept: ox.NamedNode) -> list[ox.NamedNode]:
    """Give the broader terms of a term, nearest first; a circle ends where it closes."""
    found: list[ox.NamedNode] = []
    waiting = [concept]
    while waiting:
        for broader in values(waiting.pop(), "broader"):
            if isinstance(broader, ox.NamedNode) and broader not in found:
                found.append(broader)
                waiting.append(broader)
    return found


def models_schemes() -> set[str]:
    markers = (field.marker for model in all_models() for field in fields_of(model))
    return {marker.name for marker in markers if isinstance(marker, Scheme)}


def test_the_files_say_only_what_is_read_from_them() -> None:
    used = {quad.predicate.value for quad in QUADS} - {RDF_TYPE}
    kinds = {quad.object.value for quad in QUADS if quad.predicate.value == RDF_TYPE}
    assert len(FILES) > 5
    assert {iri.removeprefix(terms.SKOS) for iri in used | kinds} == SKOS_TERMS


def test_whatever_is_described_is_a_term_or_a_list_of_terms_and_never_both() -> None:
    # SKOS Reference S9: ConceptScheme is disjoint with Concept
    assert {quad.subject for quad in QUADS} == SCHEMES | CONCEPTS
    assert SCHEMES.isdisjoint(CONCEPTS)


def test_every_list_of_terms_has_a_name_of_its_own_in_each_of_the_six_languages() -> None:
    wanted = Counter(LANGUAGES)
    assert [scheme for scheme in SCHEMES if Counter(languages(scheme, "prefLabel")) != wanted] == []
    names = [
        one
        for scheme in SCHEMES
        for one in values(scheme, "prefLabel")
        if isinstance(one, ox.Literal) and one.language == "en"
    ]
    assert len({one.value for one in names}) == len(SCHEMES)


def test_every_term_is_in_the_list_that_its_address_names() -> None:
    strays = [
        concept
        for concept in CONCEPTS
        if values(concept, "inScheme") != [ox.NamedNode(settings.TERMS + scheme_and_slug(concept)[0])]
    ]
    assert strays == []
    assert {scheme for concept in CONCEPTS for scheme in values(concept, "inScheme")} == SCHEMES


def test_the_notation_of_a_term_is_its_slug() -> None:
    wrong = [
        concept
        for concept in CONCEPTS
        if values(concept, "notation") != [ox.Literal(scheme_and_slug(concept)[1])]
    ]
    assert wrong == []


def test_every_term_has_one_name_in_each_of_the_six_languages() -> None:
    # SKOS Reference S14: no more than one prefLabel for each language tag
    wanted = Counter(LANGUAGES)
    named = {concept: Counter(languages(concept, "prefLabel")) for concept in CONCEPTS}
    assert {concept: found for concept, found in named.items() if found != wanted} == {}


def test_every_term_is_defined_once_in_english_in_a_full_sentence() -> None:
    assert [concept for concept in CONCEPTS if languages(concept, "definition") != ["en"]] == []
    sentences = {values(concept, "definition")[0].value for concept in CONCEPTS}
    assert {text for text in sentences if not (text[0].isupper() and text.endswith("."))} == set()


def test_no_name_of_a_term_is_given_twice_in_a_language() -> None:
    # SKOS Reference S13: prefLabel and altLabel are disjoint; held here for folded spellings too
    given = Counter(
        (concept.value, label.language, terms.folded(label.value))
        for concept in CONCEPTS
        for label in values(concept, "prefLabel") + values(concept, "altLabel")
        if isinstance(label, ox.Literal)
    )
    assert [name for name, count in given.items() if count > 1] == []


def test_a_name_in_any_language_stands_for_one_term_of_its_list() -> None:
    labels = ((*scheme_and_slug(concept), name) for concept in CONCEPTS for name in names_of(concept))
    assert ambiguous((scheme, name, slug) for scheme, slug, name in labels) == {}


def test_names_that_differ_only_in_accents_case_and_hyphens_are_told_to_be_the_same() -> None:
    labels = [
        ("side", "Avant-plat", "upper"),
        ("side", "avant  PLÀT", "lower"),
        ("edge", "avant plat", "head"),
    ]
    assert ambiguous(labels) == {("side", "avant plat"): {"upper", "lower"}}


def test_a_term_is_either_at_the_top_of_its_list_or_under_one_broader_term() -> None:
    for concept in CONCEPTS:
        top, broader = values(concept, "topConceptOf"), values(concept, "broader")
        assert len(top) + len(broader) == 1, concept
        assert top in ([], values(concept, "inScheme")), concept


def test_a_broader_term_is_in_the_same_list_and_never_leads_back() -> None:
    # no term is linked by skos:related, so S27 (related is disjoint with broaderTransitive) holds by itself
    for concept in CONCEPTS:
        assert set(above(concept)) <= CONCEPTS - {concept}, concept
        assert {scheme_and_slug(term)[0] for term in above(concept)} <= {scheme_and_slug(concept)[0]}


def test_the_models_use_every_list_of_terms_and_no_other() -> None:
    assert models_schemes() == {scheme.value.removeprefix(settings.TERMS) for scheme in SCHEMES}


def test_the_terms_in_the_catalogue_are_those_in_the_files() -> None:
    known = {(scheme, slug) for scheme, concepts in terms.all_concepts().items() for slug in concepts}
    assert known >= {scheme_and_slug(concept) for concept in CONCEPTS}
    comb = terms.concept("function", "spine-lining-slotted")
    assert (comb.iri, comb.broader) == (settings.TERMS + "function/spine-lining-slotted", "spine-lining")


def test_every_name_of_a_term_finds_it() -> None:
    for concept in CONCEPTS:
        scheme, slug = scheme_and_slug(concept)
        assert {terms.slug_for(scheme, name.upper()) for name in names_of(concept)} == {slug}


@pytest.mark.parametrize(
    ("scheme", "written", "slug"),
    [
        ("function", "Board paper", "pastedown"),
        ("function", "contre-garde", "pastedown"),
        ("function", "REFORÇ DEL LLOM", "spine-lining"),
        ("function", "rückenhinterklebung", "spine-lining"),
        ("function", "centre fold guard", "sewing-guard"),
        ("function", "center-fold guard", "sewing-guard"),
        ("fixing", "adherido con engrudo", "adhered-starch"),
        ("feature", "foro di cucitura", "sewing-hole"),
        ("side", "front board", "upper"),
        ("side", "Hinterdeckel", "lower"),
    ],
)
def test_a_binder_of_any_of_the_six_languages_is_understood(scheme: str, written: str, slug: str) -> None:
    assert terms.slug_for(scheme, written) == slug


@pytest.mark.parametrize(("written", "meant"), [("pastdown", "pastedown"), ("guarda vollant", "flyleaf")])
def test_a_misspelt_term_is_not_guessed_but_the_near_one_is_named(written: str, meant: str) -> None:
    assert terms.slug_for("function", written) is None
    assert meant in terms.near("function", written)


@pytest.mark.parametrize(
    "slug", ["solvent", "steam", "dry-mechanical", "humidity", "gel-or-poultice", "thread-cut"]
)
def test_a_method_that_can_do_harm_says_so_and_defers_to_a_qualified_person(slug: str) -> None:
    # cautions: common practice, no published source
    assert "qualified person" in terms.concept("method", slug).note


@pytest.mark.parametrize(
    ("scheme", "slug", "caution"),
    [
        ("technique", "uv-fluorescence", "protect eyes and skin"),
        ("technique", "x-ray", "Radiation"),
        ("examination", "light-exposed-face", "protect eyes and skin"),
        ("examination", "xrf", "Radiation"),
    ],
)
def test_light_and_rays_that_can_do_harm_carry_their_caution(scheme: str, slug: str, caution: str) -> None:
    # cautions: common practice, no published source
    note = terms.concept(scheme, slug).note
    assert caution in note
    assert "local rules" in note.lower()
