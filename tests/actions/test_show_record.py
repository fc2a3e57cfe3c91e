"""Showing one record in words."""

import pytest

from guardbook.actions.show_record import Line, Shown, show_record
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, WrongUse
from guardbook.records.agent import Agent
from tests.binding.bench import at, library, made, piece, placing, separation, volume
from tests.catalogue.shelf import save

CITY = library("City Library")
ANNA = made(Agent, "Anna", name="Anna Verrin")
BOOK = volume("Book", "1510")
STRIP = piece(
    "Strip",
    material="parchment",
    seenBy=ANNA.id,
    keeper=CITY.id,
    textLanguages=["la", "ca"],
    features=[{"featureKind": "sewing-hole", "x": "15.50", "goesThrough": True}],
)
PUT = placing("put", "Strip", "Book", 1, at("0", "10.0"), when="1510", function="sewing-guard")
OFF = separation("off", "Strip", "Book", 2, separationKind="lifted-in-treatment", undoes=PUT.id)


@pytest.fixture
def shown(workshop: Access) -> Shown:
    save(workshop, CITY, ANNA, BOOK, STRIP, PUT, OFF)
    return show_record(workshop, STRIP.short)


def lines(shown: Shown) -> dict[str, Line]:
    return {line.name: line for section in shown.sections for line in section.lines}


def test_terms_and_names_are_written_out(shown: Shown) -> None:
    told = lines(shown)
    assert [value.text for value in told["material"].values] == ["parchment"]
    assert [(value.text, value.iri) for value in told["keeper"].values] == [("City Library", CITY.id)]
    assert [value.text for value in told["textLanguages"].values] == ["ca", "la"]


def test_a_measurement_keeps_its_digits_and_its_unit_is_told(shown: Shown) -> None:
    height = lines(shown)["height"]
    assert (height.label, height.values[0].text) == ("Height (mm)", "40.0")


def test_a_hole_is_shown_with_its_own_fields(shown: Shown) -> None:
    hole = lines(shown)["features"].values[0]
    assert hole.text == "feature-1"
    assert {line.name: line.values[0].text for line in hole.lines} == {
        "featureKind": "sewing hole",
        "x": "15.50",
        "goesThrough": "yes",
    }


def test_fields_stand_under_headings_and_empty_ones_are_left_out(shown: Shown) -> None:
    assert [section.title for section in shown.sections][:2] == ["Identification", "Material and size"]
    assert "watermark" not in lines(shown)


def test_events_are_told_by_what_happened(shown: Shown) -> None:
    assert [(linked.kind, linked.title) for linked in shown.linked] == [
        ("Placing", "put"),
        ("Separation", "off"),
    ]


def test_an_event_without_a_title_is_told_by_its_kind_and_date(workshop: Access) -> None:
    untitled = PUT.model_copy(update={"title": None})
    save(workshop, CITY, ANNA, BOOK, STRIP, untitled)
    assert [linked.title for linked in show_record(workshop, STRIP.short).linked] == ["sewing guard, 1510"]


def test_labels_come_in_the_language_asked_for(workshop: Access, shown: Shown) -> None:
    assert lines(show_record(workshop, STRIP.id, "ca"))["height"].label == "Alçada (mm)"
    assert lines(shown)["height"].label == "Height (mm)"


def test_a_language_without_labels_is_refused(workshop: Access) -> None:
    save(workshop, BOOK)
    with pytest.raises(WrongUse, match="'tlh', only in en, ca, es, fr, de, it"):
        show_record(workshop, BOOK.id, "tlh")


def test_the_public_is_not_told_the_name_of_who_saw_it(shown: Shown, public: Access) -> None:
    told = lines(show_record(public, STRIP.id))
    assert "seenBy" in lines(shown)
    assert "seenBy" not in told


def test_a_record_that_is_not_there_is_not_shown(workshop: Access) -> None:
    with pytest.raises(NotFound):
        show_record(workshop, STRIP.id)
