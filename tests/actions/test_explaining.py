"""The data dictionary and the lists of terms."""

import pytest

from guardbook.actions.explain_fields import data_dictionary
from guardbook.actions.list_terms import list_schemes, narrower_than, term_named, terms_in_turtle, terms_of
from guardbook.errors import NotFound
from guardbook.records.fields import all_models, fields_of


def test_every_field_of_every_model_is_explained() -> None:
    for told, model in zip(data_dictionary(), all_models(), strict=True):
        assert {field.name for field in told.fields} == {field.json_name for field in fields_of(model)}
        assert told.about.endswith(".")
        assert all(field.label and field.help and field.values for field in told.fields)


def test_what_a_field_holds_is_told_in_words() -> None:
    fragment = next(model for model in data_dictionary("ca") if model.name == "Fragment")
    told = {field.name: field for field in fragment.fields}
    assert (told["height"].label, told["height"].values) == ("Alçada (mm)", "a number")
    assert (told["dateMade"].values, told["keeper"].values) == (
        "a date (EDTF, ISO 8601-2)",
        "a record: institution or agent",
    )
    assert (told["material"].scheme, told["material"].values) == ("material", "a term")
    assert (told["boxLocation"].visible, told["textLanguages"].many) == ("workshop", True)


def test_the_lists_say_how_many_terms_they_hold() -> None:
    counts = {scheme.scheme: scheme.count for scheme in list_schemes()}
    assert counts["function"] == len(terms_of("function")) > 30


def test_a_term_leads_to_the_narrower_ones() -> None:
    narrower = narrower_than("function", "spine-lining")
    assert {term.broader for term in narrower} == {"spine-lining"}
    assert term_named("function", narrower[0].slug) == narrower[0]


def test_a_list_in_turtle_holds_its_terms_and_no_others() -> None:
    text = terms_in_turtle("fixing").decode()
    assert all(f"{term.slug}" in text for term in terms_of("fixing"))
    assert "terms/function/" not in text


@pytest.mark.parametrize(
    ("scheme", "slug", "said"), [("hat", "x", "function"), ("function", "pastdown", "pastedown")]
)
def test_a_term_there_is_not_is_answered_with_near_ones(scheme: str, slug: str, said: str) -> None:
    with pytest.raises(NotFound, match=said):
        term_named(scheme, slug)
