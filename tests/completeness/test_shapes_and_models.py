"""The shapes and the models are two statements of one thing; here each is held against the other."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.completeness.forms import forms_of, groups, local
from guardbook.completeness.shape_files import (
    SHACL,
    SHAPES,
    STAGES,
    STRUCTURE,
    own_files,
    own_statements,
    read,
)
from guardbook.records.base import Model
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.terms import folded
from guardbook.records.values import Datatype, PropertyMark, Reference, Scheme
from guardbook.wording import LANGUAGES

MODELS = {model.__name__: model for model in all_models()}
FIELDS = [(model, field) for model in MODELS.values() for field in fields_of(model)]

Rows = Mapping[str, tuple[Any, ...]]


def shapes_of(model: type[Model]) -> dict[str, Rows]:
    """The field shapes of a model by property."""
    found = own_statements(STRUCTURE)
    rows = found[ox.NamedNode(SHAPES + model.__name__)]
    assert rows[SHACL + "targetClass"] == (ox.NamedNode(settings.NAMESPACE + model.__name__),)
    return {found[node][SHACL + "path"][0].value: found[node] for node in rows[SHACL + "property"]}  # type: ignore[union-attr]


def one(rows: Rows, name: str) -> str | None:
    """The one value of a SHACL property, or None."""
    values = rows.get(SHACL + name, ())
    assert len(values) < 2, f"{name} is said twice"
    return values[0].value if values else None


@pytest.mark.parametrize("model", MODELS.values())
def test_every_field_of_a_record_has_a_shape_and_every_shape_a_field(model: type[Model]) -> None:
    assert set(shapes_of(model)) == {field.predicate for field in fields_of(model)}


def identifier(case: object) -> str:
    return case.__name__ if isinstance(case, type) else getattr(case, "json_name", "")


@pytest.mark.parametrize(("model", "field"), FIELDS, ids=identifier)
def test_a_shape_asks_for_as_many_values_of_the_same_kind_as_the_model(
    model: type[Model], field: FieldPath
) -> None:
    rows = shapes_of(model)[field.predicate]
    assert one(rows, "maxCount") == (None if field.many else "1")
    assert one(rows, "minCount") == ("1" if field.required else None)
    if isinstance(field.marker, Datatype):
        assert (one(rows, "datatype"), one(rows, "nodeKind")) == (field.marker.iri, None)
        return
    assert (one(rows, "datatype"), one(rows, "nodeKind")) == (None, SHACL + "IRI")
    match field.marker:
        case Scheme(name):
            assert one(rows, "pattern") == f"^{settings.TERMS}{name}/"
        case Reference(kinds, part):
            words = kinds[0] if len(kinds) == 1 else f"({'|'.join(kinds)})"
            assert one(rows, "pattern") == f"/{words}/[^/#]+" + (f"#{part}-" if part else "$")
        case PropertyMark():
            assert one(rows, "pattern") == "^" + settings.NAMESPACE
        case _:
            assert one(rows, "class") == settings.NAMESPACE + part_of(field)


def part_of(field: FieldPath) -> str:
    """The class a part of the same record has."""
    if field.part:
        return field.part.__name__
    prefix = getattr(field.marker, "part", None)
    return next(name for name, model in MODELS.items() if getattr(model, "prefix", "") == prefix)


@pytest.mark.parametrize("model", MODELS)
def test_every_field_is_labelled_in_six_languages_and_helped_with_in_english(model: str) -> None:
    for form in forms_of(model):
        assert set(form.labels) == set(LANGUAGES), form.name
        assert all(form.labels.values()), form.name
        assert form.help.endswith("."), form.name
        assert form.group in groups(), form.name


@pytest.mark.parametrize("model", MODELS)
def test_every_field_says_why_it_matters_and_how_to_get_it(model: str) -> None:
    assert [form.name for form in forms_of(model) if not (form.reason and form.how)] == []


@pytest.mark.parametrize("model", MODELS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_no_two_columns_of_a_record_have_the_same_heading(model: str, language: str) -> None:
    headings = Counter(folded(form.label(language)) for form in forms_of(model))
    assert [heading for heading, times in headings.items() if times > 1] == []


@pytest.mark.parametrize("model", MODELS)
def test_fields_come_in_the_order_of_their_headings_and_no_two_share_a_place(model: str) -> None:
    places = [(groups()[form.group].order, form.order) for form in forms_of(model)]
    assert places == sorted(set(places))


def test_headings_are_named_in_six_languages() -> None:
    assert groups()
    assert all(set(group.labels) == set(LANGUAGES) for group in groups().values())


def paths_in(node: Any, found: Mapping[Any, Rows]) -> Iterator[str]:
    """All predicates within a path: sequences, alternatives and inverses are taken apart."""
    if isinstance(node, ox.NamedNode):
        yield node.value
    elif isinstance(node, ox.BlankNode):
        for values in found[node].values():
            for value in values:
                yield from paths_in(value, found)


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
def test_every_path_in_the_shapes_is_a_field_of_some_record(part: str) -> None:
    known = {field.predicate for _, field in FIELDS}
    found = own_statements(part)
    paths = {
        path
        for rows in found.values()
        for node in rows.get(SHACL + "path", ())
        for path in paths_in(node, found)
    }
    paths = {path for path in paths if not path.startswith("http://www.w3.org/1999/02/22-rdf-syntax-ns#")}
    assert paths
    assert paths - known == set()


@pytest.mark.parametrize("path", [*own_files(STRUCTURE), *(own_files(stage)[0] for stage in STAGES)], ids=str)
def test_every_class_and_shape_a_file_names_is_there(path: Any) -> None:
    triples = read(path)
    classes = {
        local(triple.object, settings.NAMESPACE)
        for triple in triples
        if triple.predicate.value in {SHACL + "targetClass", SHACL + "class"}
    }
    assert classes - set(MODELS) == set()
    everything = set().union(*(own_statements(part) for part in (STRUCTURE, *STAGES)))
    named = {triple.object for triple in triples if triple.predicate.value == SHACL + "property"}
    named = {node for node in named if isinstance(node, ox.NamedNode)}
    assert named - everything == set()
