"""What can be laid out is listed, as far as the viewer sees it: all, and what each keeper has."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.actions import collection_of as module
from guardbook.actions.collection_of import PAGE, collection_of
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from tests.binding.bench import at, iri, library, piece, placing, separation, volume
from tests.catalogue.shelf import save

LIBRARY, OTHER = library("Library of the Weir"), library("Empty library")
BOOK = volume("Book", "1500", "1900", keeper=LIBRARY.id)
HIDDEN = volume("Hidden", "1500", keeper=LIBRARY.id, visibility="workshop")
STRIP = piece("Strip", height="100", width="40")


@pytest.fixture
def shelf(workshop: Access) -> Access:
    """Keep two volumes with a strip in them, one for the workshop only, and one of which nothing is known."""
    told = [placing("put", "Strip", "Book", 1, at("0", "0")), separation("off", "Strip", "Book", 2)]
    again = placing("again", "Strip", "Hidden", 1, at("0", "0"))
    save(workshop, LIBRARY, OTHER, BOOK, HIDDEN, volume("Unknown"), STRIP, *told, again)
    return workshop


def names(collection: dict[str, Any]) -> list[str]:
    return [item["label"]["none"][0] for item in collection["items"]]


def test_volumes_are_listed_that_can_be_laid_out(shelf: Access) -> None:
    assert names(collection_of(shelf, "volumes")) == ["Book", "Hidden"]


def test_the_public_is_told_of_what_is_public(shelf: Access, public: Access) -> None:
    assert names(collection_of(public, "volumes")) == ["Book"]
    assert names(collection_of(public, LIBRARY.short)) == ["Book"]


def test_the_list_of_lists_names_the_keepers_who_have_something(shelf: Access) -> None:
    top = collection_of(shelf, at="https://far.example/")
    assert names(top) == ["Volumes", "Library of the Weir"]
    assert top["id"] == "https://far.example/iiif/collection.json"
    assert top["items"][1]["id"] == f"https://far.example/iiif/collection/{LIBRARY.short}.json"


@pytest.mark.parametrize(
    "name", [OTHER.short, BOOK.short, iri("institution", "none").rpartition("example/")[2]]
)
def test_one_who_keeps_nothing_has_no_list(shelf: Access, name: str) -> None:
    with pytest.raises(NotFound):
        collection_of(shelf, name)


def test_a_long_list_is_broken_into_parts_that_hold_everything_once(
    workshop: Access, monkeypatch: pytest.MonkeyPatch
) -> None:
    count = 2 * PAGE + 1
    save(workshop, *(volume(f"Book {number}") for number in range(count)))
    # whether a volume can be laid out is another question
    monkeypatch.setattr(module, "can_be_laid_out", lambda _access, _iri: True)
    whole = collection_of(workshop, "volumes")
    assert [item["type"] for item in whole["items"]] == ["Collection"] * 3
    parts = [collection_of(workshop, "volumes", number) for number in (1, 2, 3)]
    assert [part["id"] for part in parts] == [item["id"] for item in whole["items"]]
    assert all(part["partOf"][0]["id"] == whole["id"] for part in parts)
    listed = [name for part in parts for name in names(part)]
    assert sorted(listed) == sorted(f"Book {number}" for number in range(count))
    with pytest.raises(NotFound, match="has no page 4"):
        collection_of(workshop, "volumes", 4)


def test_a_short_list_has_no_parts(shelf: Access) -> None:
    with pytest.raises(NotFound, match="has no page 1"):
        collection_of(shelf, "volumes", 1)
