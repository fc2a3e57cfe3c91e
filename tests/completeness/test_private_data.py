"""No private data in public fields: what the last stage finds in running text."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.completeness.report import Report
from guardbook.completeness.stages import check
from guardbook.records.base import Record
from tests.catalogue.shelf import iri
from tests.completeness.situations import STRIP, made, quads, strip

OWNER = iri("agent", "a private owner")


def owner(**fields: Any) -> Record:
    return made("agent", OWNER, **{"name": "Amalthea Quillfeather", "contact": "12 Mill Lane", **fields})


def told(report: Report) -> list[tuple[str | None, str]]:
    return [
        (item.field, item.as_json()["severity"]) for item in report.missing if "public field" in item.message
    ]


def found(text: str, *, person: Record, field: str = "note", **fields: Any) -> list[tuple[str | None, str]]:
    piece = strip(owner=OWNER, **{field: text}, **fields)
    return told(check(quads(piece, person), "ready-to-share", [STRIP]))


@pytest.mark.parametrize(
    "text",
    [
        "From the house of Amalthea Quillfeather.",
        "bought from AMALTHEA  QUILLFEATHER in 1901",
        "Amalthea\nQuillfeather's copy",
    ],
)
def test_a_name_that_may_not_be_named_is_found_however_it_is_written(text: str) -> None:
    assert found(text, person=owner()) == [("note", "required")]


def test_a_family_name_alone_is_only_a_doubt() -> None:
    assert found("Cut from a Quillfeather roll.", person=owner()) == [("note", "recommended")]
    assert found("Cut with a quillfeather knife.", person=owner()) == []


def test_a_person_who_agreed_may_be_named() -> None:
    assert found("From Amalthea Quillfeather.", person=owner(mayBeNamed=True)) == []


def test_a_name_within_a_longer_word_is_none() -> None:
    short = owner(name="Ann Lee")
    assert found("Johann Leeward sold it.", person=short) == []


def test_private_notes_and_hidden_records_may_name_anybody() -> None:
    assert found("Amalthea Quillfeather rang.", person=owner(), field="privateNote") == []
    assert found("From Amalthea Quillfeather.", person=owner(), visibility="workshop") == []


@pytest.mark.parametrize("place", ["Shelf 4, box 12", "12 Mill Lane"])
def test_a_shelf_or_a_contact_does_not_stand_in_a_public_field(place: str) -> None:
    assert found(f"It lies in: {place}.", person=owner(), boxLocation="Shelf 4, box 12") == [
        ("note", "required")
    ]


def test_the_name_itself_is_not_repeated_in_the_report() -> None:
    piece = strip(owner=OWNER, note="From Amalthea Quillfeather.")
    report = check(quads(piece, owner()), "ready-to-share", [STRIP])
    assert "private data" not in report.words()
    assert "Quillfeather" not in report.words()


def test_private_data_is_looked_for_only_when_a_record_is_to_be_shared() -> None:
    piece = strip(owner=OWNER, note="From Amalthea Quillfeather.")
    assert told(check(quads(piece, owner()), "after-lifting", [STRIP])) == []
