"""Where a piece is now."""

from __future__ import annotations

import pytest

from guardbook.binding.dossier import Dossier
from guardbook.binding.now import Now, keeper_clash, now_of
from guardbook.binding.replay import life_of
from guardbook.binding.stay_words import now_words
from guardbook.records.base import Record
from guardbook.records.move import Move
from tests.binding.bench import dossier, iri, library, made, move, piece, placing, separation, volume

CITY, ABBEY = library("City Library"), library("Abbey")
BOOK = volume("Book", "1510", "2020", keeper=CITY.id, shelfmark="B 7")
PUT = placing("put", "Strip", "Book", 1, when="1510")
OFF = separation("off", "Strip", "Book", 2, when="2020")


def now(*records: Record, strip: Record | None = None) -> tuple[Now, Dossier]:
    found = dossier(BOOK, CITY, ABBEY, strip or piece("Strip"), *records)
    return now_of(life_of(found, iri("fragment", "Strip")), found), found


def words(*records: Record, strip: Record | None = None) -> str:
    return now_words(*now(*records, strip=strip))


def off(**fields: str) -> Record:
    return separation("off", "Strip", "Book", 2, when="2020", **fields)


def test_a_piece_in_its_volume_is_where_the_volume_is() -> None:
    assert words(PUT) == (
        f"Now it is in Book, kept by City Library, shelfmark B 7; so says the placing of 1510 [{PUT.short}]."
    )


def test_a_piece_in_a_lost_volume_is_told_so() -> None:
    gone = made(Move, "gone", object=BOOK.id, moveKind="lost", when="1944")
    assert "which is lost itself" in words(PUT, gone)


def test_a_volume_that_was_lost_and_came_back_is_not_lost() -> None:
    gone = made(Move, "gone", object=BOOK.id, moveKind="lost", when="1944")
    back = made(Move, "back", object=BOOK.id, moveKind="returned", when="1950")
    assert now(PUT, gone, back)[0].host_state is None


def test_a_piece_taken_off_is_where_the_separation_says() -> None:
    taken = off(wentTo=CITY.id, shelfmark="B 7, folder 1", housing="folder")
    assert words(PUT, taken) == (
        "Now it is kept by City Library, shelfmark B 7, folder 1, housing: folder; "
        f"so says the separation of 2020 [{taken.short}]."
    )


def test_a_piece_in_the_pocket_of_its_volume_is_kept_with_it() -> None:
    found, _ = now(PUT, off(housing="pocket-in-volume"))
    assert (found.state, found.host) == ("kept-with-volume", BOOK.id)


def test_a_later_move_tells_where_a_piece_is_and_keeps_the_keeper_it_does_not_name() -> None:
    found, _ = now(
        PUT, off(wentTo=CITY.id), move("boxed", "Strip", when="2021", housing="box", place="Store 2")
    )
    assert (found.keeper, found.housing, found.place) == (CITY.id, "box", "Store 2")


@pytest.mark.parametrize("kind", ["lost", "destroyed"])
def test_a_piece_that_is_gone_is_said_to_be_gone_whatever_its_record_says(kind: str) -> None:
    strip = piece("Strip", keeper=CITY.id)
    found, _ = now(PUT, OFF, move("gone", "Strip", when="2022", moveKind=kind), strip=strip)
    assert (found.state, found.keeper) == (kind, None)


def test_a_piece_lost_from_its_volume_is_lost() -> None:
    assert words(PUT, off(separationKind="lost")).startswith("Now it is lost; so says the separation of 2020")


def test_where_no_event_says_the_record_of_the_piece_does() -> None:
    strip = piece("Strip", keeper=CITY.id, shelfmark="Fr. 3")
    assert words(strip=strip) == "Now it is kept by City Library, shelfmark Fr. 3; so says its own record."
    assert words(PUT, OFF, strip=strip) == words(strip=strip)


def test_where_nothing_says_it_the_answer_is_that_it_is_not_recorded() -> None:
    assert words() == "Where it is now is not recorded."
    last = f"the last that is known of it is the separation of 2020 [{OFF.short}]"
    assert words(PUT, OFF) == f"Where it is now is not recorded; {last}."


def test_another_keeper_in_the_record_than_in_the_last_event_is_a_contradiction_unless_lent() -> None:
    strip = piece("Strip", keeper=ABBEY.id)
    found, records = now(PUT, off(wentTo=CITY.id), strip=strip)
    (clash,) = keeper_clash(life_of(records, strip.id), found, records)
    assert clash.words().startswith(
        "The record of Strip says it is kept at Abbey, but the separation of 2020"
    )
    lent = move("loan", "Strip", when="2021", moveKind="lent", wentTo=CITY.id)
    found, records = now(PUT, off(wentTo=ABBEY.id), lent, strip=strip)
    assert keeper_clash(life_of(records, strip.id), found, records) == ()


def test_a_keeper_who_is_not_shown_is_not_named() -> None:
    found = dossier(BOOK, piece("Strip"), PUT, off(wentTo=iri("agent", "Somebody")))
    told = now_words(now_of(life_of(found, iri("fragment", "Strip")), found), found)
    assert "kept by someone who is not named here" in told
