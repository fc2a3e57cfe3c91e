"""Filling in fields of a record, written as a person types them."""

from typing import Any

import pytest

from guardbook.actions.set_fields import set_fields
from guardbook.catalogue.access import Access
from guardbook.errors import Doubtful, GuardbookError, InvalidRecord, StaleRevision, WrongUse
from guardbook.records.documents import to_document
from tests.binding.bench import at, piece, placing, volume
from tests.catalogue.shelf import save

BOOK = volume("Book", "1510")
STRIP = piece("Strip", note="torn")
PUT = placing("put", "Strip", "Book", 1, at("0", "10.0", layer=1), fixings=["adhered-starch"])


@pytest.fixture(autouse=True)
def saved(workshop: Access) -> None:
    save(workshop, BOOK, STRIP, PUT)


def setting(
    access: Access, name: str, *assignments: str, revision: int = 1, sure: bool = False
) -> dict[str, Any]:
    """Set fields and give the record's document afterwards."""
    saved = set_fields(
        access, name, assignments, started_from=revision, who="Mira", what_for="to fill in", sure=sure
    )
    return to_document(access.record(saved.iri).record)


def test_a_field_is_set_and_the_others_stay(workshop: Access) -> None:
    body = setting(workshop, STRIP.short, "height=182.50", "material=parchment")
    assert (body["height"], body["material"], body["width"]) == ("182.50", "parchment", "20.0")
    assert body["note"] == "torn"


def test_a_field_is_emptied(workshop: Access) -> None:
    assert "note" not in setting(workshop, STRIP.short, "note=")


def test_a_field_of_several_values_is_given_once_for_each(workshop: Access) -> None:
    body = setting(workshop, PUT.short, "fixings=laced", "fixings=tied")
    assert body["fixings"] == ["laced", "tied"]


def test_a_field_of_a_part_is_set_and_its_others_stay(workshop: Access) -> None:
    body = setting(workshop, PUT.short, "position-1.x=12.5", "position-1.layer=")
    (position,) = body["positions"]
    assert (position["x"], position["y"]) == ("12.5", "10.0")
    assert "layer" not in position


def test_a_part_that_is_not_there_is_made(workshop: Access) -> None:
    body = setting(workshop, STRIP.short, "feature-3.featureKind=fold", "feature-3.x=4")
    (feature,) = body["features"]
    assert (feature["id"], feature["featureKind"]) == (f"{STRIP.id}#feature-3", "fold")


def test_what_was_looked_for_and_not_found_is_answered(workshop: Access) -> None:
    body = setting(workshop, STRIP.short, "answer-1.asked=watermark", "answer-1.answer=looked-for-not-found")
    assert body["answers"][0]["asked"] == "watermark"


@pytest.mark.parametrize(
    ("assignment", "expected"),
    [
        ("height", "field=value, such as height=45.5"),
        ("heigth=12", "Did you mean height?"),
        ("feature-1.colour=red", "They are: featureKind"),
        ("hole-1.x=3", "a field of a part of this record"),
        ("=3", "one of the fields"),
    ],
)
def test_what_is_no_field_is_refused_and_nothing_saved(
    workshop: Access, assignment: str, expected: str
) -> None:
    with pytest.raises(WrongUse) as refusal:
        setting(workshop, STRIP.short, assignment)
    assert expected in str(refusal.value)
    assert workshop.record(STRIP.id).revision == 1


def test_all_that_is_wrong_is_told_at_once(workshop: Access) -> None:
    with pytest.raises(InvalidRecord) as refusal:
        setting(workshop, STRIP.short, "height=tall", "material=cheese")
    assert {fault.where for fault in refusal.value.faults} == {"height", "material"}


def test_one_value_is_not_given_twice(workshop: Access) -> None:
    with pytest.raises(WrongUse, match="one value"):
        setting(workshop, STRIP.short, "height=1", "height=2")


def test_nothing_to_set_is_wrong_use(workshop: Access) -> None:
    with pytest.raises(WrongUse):
        setting(workshop, STRIP.short)


def test_a_stale_revision_is_refused_with_both_versions(workshop: Access) -> None:
    setting(workshop, STRIP.short, "height=50")
    with pytest.raises(StaleRevision) as refusal:
        setting(workshop, STRIP.short, "width=9", revision=1)
    details = refusal.value.details
    assert (details["yours"]["width"], details["yours"]["height"]) == ("9", "40.0")
    assert details["theirs"]["height"] == "50"


@pytest.mark.parametrize("revision", [2, 99])
def test_a_revision_that_never_was_is_refused(workshop: Access, revision: int) -> None:
    with pytest.raises(GuardbookError) as refusal:
        setting(workshop, STRIP.short, "height=50", revision=revision)
    assert refusal.value.status in {404, 412}


def test_an_absurd_length_is_asked_about(workshop: Access) -> None:
    with pytest.raises(Doubtful):
        setting(workshop, STRIP.short, "height=30000")
    assert setting(workshop, STRIP.short, "height=30000", sure=True)["height"] == "30000"
