"""Asking the catalogue where a piece sat, as the workshop and as the public."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Change, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import NotFound, WrongUse
from guardbook.records.agent import Agent
from guardbook.records.base import Record
from tests.binding.bench import at, library, made, move, piece, placing, separation, volume

CITY = library("City Library")
OWNER = made(Agent, "Owner", title="Aurelia Fontcoberta", name="Aurelia Fontcoberta")
BOOK = volume("Book", "1510", "1650", "2020", keeper=CITY.id, shelfmark="B 7")
OTHER = volume("Other", "1700", keeper=OWNER.id)
STRIP, COMB = piece("Strip", workshopNumber="W 12"), piece("Comb", boxLocation="Box 4")
PUT = placing("put", "Strip", "Book", 1, at("0", "10.0", layer=1), when="1510")
OVER = placing("over", "Comb", "Book", 2, at("0", "20.0", layer=2))
RECORDS = (CITY, OWNER, BOOK, OTHER, STRIP, COMB, PUT, OVER)


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    with open_catalogue(None) as opened:
        yield opened


def save(catalogue: Catalogue, *records: Record) -> None:
    changes = [Change(record, None) for record in (*RECORDS, *records)]
    catalogue.access().save(changes, who="Mira", what_for="to ask where it sat")


def ask(catalogue: Catalogue, viewer: Viewer = Viewer.WORKSHOP, name: str = STRIP.short) -> Any:
    return where_it_sat(catalogue.access(viewer), name)


def test_a_piece_is_asked_for_by_its_identifier_in_any_spelling_or_its_workshop_number(
    catalogue: Catalogue,
) -> None:
    save(catalogue)
    spellings = (STRIP.id, STRIP.short, STRIP.identifier.lower().replace("-", " "), "W 12")
    assert {ask(catalogue, name=spelling).piece for spelling in spellings} == {STRIP.id}


def test_what_happened_to_other_pieces_in_the_volume_tells_who_lay_near(catalogue: Catalogue) -> None:
    save(catalogue)
    (stay,) = ask(catalogue).stays
    assert [[near.name for near in lay.neighbours] for lay in stay.lays] == [[], ["Comb"]]
    assert "kept by City Library" in ask(catalogue).words()


def test_a_volume_is_not_asked_where_it_sat(catalogue: Catalogue) -> None:
    save(catalogue)
    with pytest.raises(WrongUse, match="ask for its pieces"):
        ask(catalogue, name=BOOK.short)


def test_a_piece_that_is_not_public_is_not_answered_for(catalogue: Catalogue) -> None:
    hidden = piece("Hidden", visibility="workshop")
    save(catalogue, hidden)
    assert ask(catalogue, name=hidden.short).piece == hidden.id
    with pytest.raises(NotFound):
        ask(catalogue, Viewer.PUBLIC, hidden.short)


def test_the_public_learns_that_an_event_is_withheld_and_nothing_of_it(catalogue: Catalogue) -> None:
    off = separation("off", "Strip", "Book", 3, when="2020-06", visibility="workshop", shelfmark="Safe 9")
    save(catalogue, off)
    answer = ask(catalogue, Viewer.PUBLIC)
    assert answer.withheld == 1
    assert "One event is not shown to you" in answer.words()
    for secret in ("2020-06", "Safe 9", off.short):
        assert secret not in answer.words() + str(answer.as_json())
        assert secret in ask(catalogue).words() + str(ask(catalogue).as_json())
    assert ask(catalogue).withheld == 0


def test_a_withheld_return_makes_no_contradiction_for_the_public(catalogue: Catalogue) -> None:
    off = separation("off", "Strip", "Book", 2, when="1650", visibility="workshop")
    again = placing("again", "Strip", "Other", 1, when="1700")
    save(catalogue, off, again)
    assert ask(catalogue).contradictions == ()
    assert ask(catalogue, Viewer.PUBLIC).contradictions == ()


def test_a_private_owner_and_a_box_are_not_told_to_the_public(catalogue: Catalogue) -> None:
    off = separation("off", "Strip", "Book", 3, wentTo=OWNER.id, boxLocation="Box 4", housing="folder")
    save(catalogue, off)
    told, full = ask(catalogue, Viewer.PUBLIC), ask(catalogue)
    for secret in ("Fontcoberta", "Box 4", OWNER.identifier):
        assert secret not in told.words() + str(told.as_json())
        assert secret in full.words() + str(full.as_json())


def test_a_piece_kept_with_a_volume_it_was_never_in_names_that_volume(catalogue: Catalogue) -> None:
    save(
        catalogue,
        separation("off", "Strip", "Book", 3),
        move("with", "Strip", keptWith=OTHER.id, when="2021"),
    )
    assert "Now it is kept with Other" in ask(catalogue).words()
