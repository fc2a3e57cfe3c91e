"""Finding records, handing them on, and the one JSON form of every answer."""

import io
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from guardbook.actions.answers import as_json
from guardbook.actions.export_records import export_records
from guardbook.actions.find_records import facets_in_words, find_records
from guardbook.catalogue.access import Access
from guardbook.errors import Fault, NotFound, WrongUse
from guardbook.records.agent import Agent
from tests.binding.bench import library, made, piece, placing, volume
from tests.catalogue.shelf import save

CITY = library("City Library")
BOOK = volume("Book", "1510")
STRIP = piece("Strip", material="parchment", keeper=CITY.id, placeMade="Ombrisse")
PUT = placing("put", "Strip", "Book", 1, function="spine-lining-panel", visibility="workshop")
BRUN = made(Agent, "Brun", name="Brun Okell")


@pytest.fixture(autouse=True)
def saved(workshop: Access) -> None:
    save(workshop, CITY, BOOK, STRIP, PUT, BRUN)


def test_records_are_found_by_words_and_kind(workshop: Access) -> None:
    found = find_records(workshop, "stri", kind="fragment")
    assert [hit.iri for hit in found.hits] == [STRIP.id]


def test_facets_are_told_in_words(workshop: Access) -> None:
    facets = facets_in_words(workshop, find_records(workshop, kind="fragment"))
    told = {facet.name: [(value.label, value.count) for value in facet.values] for facet in facets}
    assert told["material"] == [("parchment", 1)]
    assert told["keeper"] == [("City Library", 1)]
    assert told["placeMade"] == [("Ombrisse", 1)]
    assert "Material" in {facet.label for facet in facets}


@pytest.mark.parametrize(
    ("asked", "place"),
    [
        ({"kind": "book"}, "kind"),
        ({"limit": 0}, "limit"),
        ({"limit": 100_000}, "limit"),
        ({"offset": -1}, "offset"),
        ({"words": "a " * 300}, "words"),
    ],
)
def test_a_search_that_makes_no_sense_is_refused(workshop: Access, asked: dict[str, str], place: str) -> None:
    with pytest.raises(WrongUse) as refusal:
        find_records(workshop, **asked)  # type: ignore[arg-type]  # wrong on purpose
    assert [fault.where for fault in refusal.value.faults] == [place]


def export(access: Access, names: list[str] | None) -> str:
    output = io.BytesIO()
    export_records(access, names, "ntriples", output)
    return output.getvalue().decode()


def test_all_records_are_handed_on(workshop: Access) -> None:
    text = export(workshop, None)
    assert all(f"<{record.id}> <" in text for record in (CITY, BOOK, STRIP, PUT, BRUN))


def test_the_public_is_handed_only_what_is_public(public: Access) -> None:
    text = export(public, None)
    assert STRIP.id in text
    assert PUT.id not in text
    assert BRUN.id not in text


def test_a_record_is_handed_on_by_any_spelling(workshop: Access) -> None:
    text = export(workshop, [STRIP.identifier.lower().replace("-", "")])
    assert STRIP.id in text
    assert f"<{BOOK.id}> <" not in text


def test_a_piece_takes_its_events_along_where_they_are_wanted(workshop: Access, public: Access) -> None:
    written = {}
    for name, access in (("workshop", workshop), ("public", public)):
        output = io.BytesIO()
        export_records(access, [STRIP.id], "nquads", output, with_events=True)
        written[name] = output.getvalue().decode()
    assert {iri in written["workshop"] for iri in (STRIP.id, PUT.id)} == {True}
    assert PUT.id not in written["public"]
    assert not any(line.startswith(f"<{BOOK.id}> ") for line in written["workshop"].splitlines())


def test_nothing_is_written_where_a_record_is_not_there(workshop: Access) -> None:
    output = io.BytesIO()
    with pytest.raises(NotFound):
        export_records(workshop, [STRIP.id, "no such thing"], "turtle", output)
    assert output.getvalue() == b""


@pytest.mark.parametrize(("names", "form"), [([], "turtle"), (None, "papyrus")])
def test_nothing_to_hand_on_is_wrong_use(workshop: Access, names: list[str] | None, form: str) -> None:
    with pytest.raises(WrongUse):
        export_records(workshop, names, form, io.BytesIO())


def test_every_answer_has_one_json_form(workshop: Access) -> None:
    hit = find_records(workshop, "strip", kind="fragment").hits[0]
    assert as_json(hit)["workshopNumber"] is None
    assert as_json(workshop.record(STRIP.id))["record"]["height"] == "40.0"
    assert as_json({"when": datetime(2024, 3, 5, tzinfo=UTC), "x": Decimal("45.50")}) == {
        "when": "2024-03-05T00:00:00+00:00",
        "x": "45.50",
    }
    assert as_json(Fault(where="height", found="x", expected="a number"))["where"] == "height"
