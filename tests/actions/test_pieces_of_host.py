"""Asking the catalogue which pieces a volume ever held."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.pieces_of_host import pieces_of_host
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Access, Change, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from tests.binding.bench import at, library, piece, placing, separation, volume

CITY = library("City Library")
BOOK, OTHER = volume("Book", "1510", "2020"), volume("Other", "2021", keeper=CITY.id, shelfmark="O 1")
STRIP, COMB = piece("Strip"), piece("Comb")
PUT = placing("put", "Strip", "Book", 1, at("0", "10.0"), when="1510", function="sewing-guard")
OFF = separation("off", "Strip", "Book", 2, when="2020", undoes=PUT.id)
ON = placing("on", "Strip", "Other", 1, when="2021")
INSIDE = placing("inside", "Comb", "Book", 1, at("0", "10.0"), visibility="workshop")


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    records: tuple[Record, ...] = (CITY, BOOK, OTHER, STRIP, COMB, PUT, OFF, ON, INSIDE)
    with open_catalogue(None) as opened:
        opened.access().save([Change(one, None) for one in records], who="Mira", what_for="to ask")
        yield opened


@pytest.fixture
def workshop(catalogue: Catalogue) -> Access:
    return catalogue.access()


def test_all_pieces_ever_in_a_volume_are_told_with_where_each_is_today(workshop: Access) -> None:
    answer = pieces_of_host(workshop, BOOK.short)
    assert [one.piece for one in answer.pieces] == [COMB.id, STRIP.id]
    assert "Now it is in Other, kept by City Library, shelfmark O 1" in answer.words()


def test_a_volume_and_its_pieces_tell_the_same(workshop: Access) -> None:
    for told in pieces_of_host(workshop, BOOK.short).pieces:
        asked = where_it_sat(workshop, told.piece)
        assert told.now == asked.now
        assert told.stays == tuple(one.stay for one in asked.stays if one.stay.host == BOOK.id)


def test_the_public_is_told_of_no_piece_whose_placing_is_withheld(catalogue: Catalogue) -> None:
    answer = pieces_of_host(catalogue.access(Viewer.PUBLIC), BOOK.short)
    assert [one.piece for one in answer.pieces] == [STRIP.id]
    assert answer.withheld == 1
    assert "Comb" not in answer.words()


def test_a_piece_is_not_asked_for_its_pieces(workshop: Access) -> None:
    with pytest.raises(WrongUse, match="ask where it sat"):
        pieces_of_host(workshop, STRIP.short)
