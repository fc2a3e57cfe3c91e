"""All pieces that ever were in a volume."""

from __future__ import annotations

from guardbook.binding.pieces import HostPieces, pieces_of
from guardbook.records.base import Record
from tests.binding.bench import dossier, iri, piece, placing, separation, volume

BOOK = volume("Book", "1510", "1650", "2020", shelfmark="B 7")
PUT = placing("put", "Strip 2", "Book", 1, function="sewing-guard", when="1510")
OFF = separation("off", "Strip 2", "Book", 3, when="2020")


def asked(*records: Record) -> HostPieces:
    pieces = (piece("Strip 2"), piece("Strip 10"), piece("Label"))
    return pieces_of(dossier(BOOK, *pieces, *records), BOOK.id)


def test_pieces_are_listed_in_the_order_in_which_they_came_and_as_people_count() -> None:
    later = placing("3", "Label", "Book", 2)
    answer = asked(later, placing("2", "Strip 10", "Book", 1), PUT)
    assert [one.piece for one in answer.pieces] == [
        iri("fragment", "Strip 2"),
        iri("fragment", "Strip 10"),
        iri("fragment", "Label"),
    ]


def test_each_piece_is_told_with_what_it_was_how_it_left_and_where_it_is() -> None:
    assert asked(PUT, OFF).words().splitlines() == [
        "Book",
        (
            "Strip 2: Sewing guard, from stage 1 (bound, 1510) to stage 2 (repaired, 1650), "
            f"taken off by the separation of 2020 [{OFF.short}]. "
            "Where it is now is not recorded; "
            f"the last that is known of it is the separation of 2020 [{OFF.short}]."
        ),
    ]


def test_a_piece_that_went_on_to_another_volume_is_said_to_be_there() -> None:
    other = volume("Other", "2021")
    answer = asked(PUT, OFF, other, placing("on", "Strip 2", "Other", 1, when="2021"))
    (told,) = answer.pieces
    assert (told.now.state, told.now.host) == ("in-volume", other.id)
    assert len(told.stays) == 1


def test_a_volume_in_which_nothing_is_recorded_says_so() -> None:
    assert asked().words() == "Book\nNo piece is recorded in it."


def test_a_piece_that_is_only_planned_to_go_in_was_never_there() -> None:
    plan = placing("plan", "Label", "Book", 3, status="planned")
    answer = asked(plan)
    assert answer.pieces == ()
    assert [event.id for event in answer.planned] == [plan.id]
    assert f"Planned: the placing [{plan.short}], Book." in answer.words()


def test_what_clashes_in_the_volume_is_told_with_it() -> None:
    twice = separation("again", "Strip 2", "Book", 3, when="2020")
    (clash,) = asked(PUT, OFF, twice).contradictions
    assert clash.kind == "removed-twice"
    assert asked(PUT, OFF, twice).as_json()["contradictions"] == [clash.as_json()]


def test_a_program_reads_each_piece_with_its_stays() -> None:
    (told,) = asked(PUT, OFF).as_json()["pieces"]
    assert told["piece"] == iri("fragment", "Strip 2")
    assert told["stays"][0]["takenBy"]["id"] == OFF.id
    assert told["now"]["state"] == "unknown"
