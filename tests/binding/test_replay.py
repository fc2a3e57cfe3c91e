"""The fold of events into a life, and what it tells that cannot be true."""

from __future__ import annotations

import pytest

from guardbook.binding.dossier import Dossier
from guardbook.binding.replay import Life, life_of
from guardbook.binding.stays import Stay
from guardbook.records.base import Record
from tests.binding.bench import alteration, at, dossier, iri, mm, move, piece, placing, separation, volume

BOOK = volume("Book", "1510~", "1650", "2020")
OTHER = volume("Other", "1600", "2020")
STRIP = piece("Strip")


def strip(*records: Record) -> Life:
    return life_of(dossier(BOOK, OTHER, STRIP, *records), iri("fragment", "Strip"))


def kinds(life: Life) -> list[str]:
    return [clash.kind for clash in life.contradictions]


def held(stay: Stay) -> list[int]:
    return [number for number in (1, 2, 3, 4) if stay.holds_at(number)]


def test_a_piece_is_in_its_volume_from_its_placing_until_its_separation() -> None:
    life = strip(placing("put", "Strip", "Book", 1), separation("off", "Strip", "Book", 3))
    assert [held(stay) for stay in life.stays] == [[1, 2]]
    assert kinds(life) == []


def test_a_piece_that_was_never_taken_out_is_still_there() -> None:
    (stay,) = strip(placing("put", "Strip", "Book", 2)).stays
    assert held(stay) == [2, 3, 4]


def test_a_piece_put_back_in_its_place_lies_as_it_did_before() -> None:
    put = placing(
        "put", "Strip", "Book", 1, at("3", "42.0"), function="sewing-guard", fixings=["adhered-starch"]
    )
    off = separation("off", "Strip", "Book", 2)
    back = placing(
        "back", "Strip", "Book", 3, returnKind="put-back-in-place", undoes=off.id, fixings=["tucked"]
    )
    stay = strip(put, off, back).stays[-1]
    assert stay.lyings[-1].positions == put.positions
    assert stay.said("function") == "sewing-guard"
    assert stay.said("fixings") == ("tucked",)


def test_a_piece_put_back_elsewhere_does_not_inherit_its_old_place() -> None:
    put = placing("put", "Strip", "Book", 1, at("3", "42.0"), function="sewing-guard")
    off = separation("off", "Strip", "Book", 2)
    back = placing("back", "Strip", "Book", 3, returnKind="put-back-elsewhere")
    stay = strip(put, off, back).stays[-1]
    assert stay.lyings[-1].positions == ()
    assert stay.said("function") is None


def test_a_piece_kept_beside_its_volume_is_not_in_it() -> None:
    put, off = placing("put", "Strip", "Book", 1), separation("off", "Strip", "Book", 2)
    kept = placing("kept", "Strip", "Book", 3, returnKind="kept-with-volume")
    assert [held(stay) for stay in strip(put, off, kept).stays] == [[1]]


def test_a_trimmed_piece_is_smaller_from_that_stage_on() -> None:
    life = strip(
        placing("put", "Strip", "Book", 1, at("0", "0")),
        alteration("ploughed", "Strip", "Book", 2, height="30.0"),
    )
    (stay,) = life.stays
    sizes = [lying.shape.height for number in (1, 2, 3) if (lying := stay.lying_at(number))]
    assert sizes == [mm("40.0"), mm("30.0"), mm("30.0")]


def test_a_piece_cut_outside_its_volumes_goes_into_the_next_as_it_was_cut() -> None:
    life = strip(
        placing("put", "Strip", "Book", 1, when="1510"),
        separation("off", "Strip", "Book", 2, when="1650"),
        alteration("cut", "Strip", when="1655", width="8.0"),
        placing("again", "Strip", "Other", 1, when="1660"),
    )
    assert [stay.lyings[0].shape.width for stay in life.stays] == [mm("20.0"), mm("8.0")]


def test_planned_events_change_nothing_and_are_listed() -> None:
    life = strip(placing("put", "Strip", "Book", 1), separation("plan", "Strip", "Book", 3, status="planned"))
    assert [held(stay) for stay in life.stays] == [[1, 2, 3, 4]]
    assert [event.title for event in life.planned] == ["plan"]


def test_a_piece_is_never_in_two_books_at_once() -> None:
    life = strip(
        placing("book", "Strip", "Book", 1, when="1510"), placing("other", "Strip", "Other", 1, when="1600")
    )
    (clash,) = life.contradictions
    assert clash.kind == "placed-while-elsewhere"
    assert clash.events == (iri("placing", "book"), iri("placing", "other"))
    assert "Strip was placed in Other" in clash.words()
    assert "still in Book" in clash.words()
    assert "Record when and how it left Book" in clash.mend


def test_each_of_two_books_still_shows_the_piece_that_is_said_to_be_in_both() -> None:
    life = strip(
        placing("book", "Strip", "Book", 1, when="1510"),
        placing("other", "Strip", "Other", 1, when="1600"),
        separation("off", "Strip", "Book", 3, when="2020"),
    )
    assert {stay.host: held(stay) for stay in life.stays} == {
        iri("host", "Book"): [1, 2],
        iri("host", "Other"): [1, 2, 3, 4],
    }
    assert kinds(life) == ["placed-while-elsewhere"]


def test_a_piece_placed_twice_in_one_volume_is_drawn_once() -> None:
    life = strip(placing("one", "Strip", "Book", 1), placing("two", "Strip", "Book", 3))
    assert [held(stay) for stay in life.stays] == [[1, 2], [3, 4]]
    assert kinds(life) == ["placed-while-elsewhere"]


def test_a_piece_cannot_be_taken_from_where_it_never_was() -> None:
    life = strip(separation("off", "Strip", "Book", 3, separationKind="lifted-in-treatment"))
    assert kinds(life) == ["removed-from-where-it-never-was"]
    assert life.contradictions[0].events == (iri("separation", "off"),)
    assert [held(stay) for stay in life.stays] == [[1, 2]]


@pytest.mark.parametrize("kind", ["found-loose-with-volume", "separated-long-ago", "lost"])
def test_a_piece_found_loose_or_long_gone_needs_no_record_of_its_placing(kind: str) -> None:
    life = strip(separation("off", "Strip", "Book", 3, separationKind=kind))
    assert kinds(life) == []
    assert life.stays[0].placing is None


def test_what_this_viewer_is_not_shown_is_no_contradiction() -> None:
    off = separation("off", "Strip", "Book", 3)
    hidden = Dossier.of([BOOK, STRIP, off], withheld=1)
    assert life_of(hidden, iri("fragment", "Strip")).contradictions == ()


def test_a_piece_taken_from_another_book_than_it_was_in_is_told() -> None:
    life = strip(placing("put", "Strip", "Book", 1), separation("off", "Strip", "Other", 2))
    assert kinds(life) == ["removed-while-elsewhere"]
    assert life.contradictions[0].events == (iri("placing", "put"), iri("separation", "off"))


def test_a_piece_cannot_be_taken_out_twice() -> None:
    life = strip(
        placing("put", "Strip", "Book", 1),
        separation("off", "Strip", "Book", 2),
        separation("again", "Strip", "Book", 3),
    )
    assert kinds(life) == ["removed-twice"]
    assert len(life.stays) == 1


def test_a_separation_that_undoes_another_placing_than_the_last_is_told() -> None:
    first = placing("first", "Strip", "Book", 1)
    life = strip(
        first,
        separation("off", "Strip", "Book", 2, undoes=first.id),
        placing("second", "Strip", "Book", 2),
        separation("wrong", "Strip", "Book", 3, undoes=first.id),
    )
    assert kinds(life) == ["undoes-another"]


def test_a_separation_without_a_volume_is_told_where_the_piece_was_in_one() -> None:
    put = placing("put", "Strip", "Book", 1)
    loose = separation("off", "Strip", None, None, when="2020")
    assert kinds(strip(put, loose)) == ["removed-without-volume"]
    assert kinds(strip(put, separation("off", "Strip", None, None, undoes=put.id))) == []


def test_an_alteration_in_a_volume_the_piece_was_not_in_is_told() -> None:
    life = strip(placing("put", "Strip", "Book", 1), alteration("cut", "Strip", "Other", 1, height="9.0"))
    assert kinds(life) == ["altered-where-it-was-not"]


def test_a_piece_that_moves_on_its_own_while_bound_in_is_told() -> None:
    put = placing("put", "Strip", "Book", 1, when="1510")
    life = strip(put, move("sold", "Strip", when="1900", moveKind="sold"))
    assert kinds(life) == ["moved-while-in-a-volume"]


@pytest.mark.parametrize("fields", [{"moveKind": "lost"}, {"keptWith": iri("host", "Book")}], ids=str)
def test_a_loss_or_a_move_beside_the_same_volume_is_no_contradiction(fields: dict[str, str]) -> None:
    put = placing("put", "Strip", "Book", 1, when="1510")
    life = strip(put, move("away", "Strip", when="1900", **fields))
    assert kinds(life) == []
    assert [held(stay) for stay in life.stays] == [[1]]


def test_a_piece_lifted_and_returned_must_be_back() -> None:
    put = placing("put", "Strip", "Book", 1)
    off = separation("off", "Strip", "Book", 2, separationKind="lifted-and-returned")
    assert kinds(strip(put, off)) == ["return-not-recorded"]
    assert kinds(strip(put, off, placing("back", "Strip", "Book", 3, undoes=off.id))) == []
    planned = placing("plan", "Strip", "Book", 3, status="planned")
    assert kinds(strip(put, off, planned)) == []


def test_a_life_is_told_without_the_record_of_the_piece() -> None:
    life = life_of(dossier(BOOK, placing("put", "Strip", "Book", 1, at("0", "0"))), iri("fragment", "Strip"))
    assert [held(stay) for stay in life.stays] == [[1, 2, 3, 4]]


def test_a_life_is_told_without_the_record_of_the_volume() -> None:
    records = (placing("put", "Strip", "Book", 1), separation("off", "Strip", "Book", 2))
    life = life_of(dossier(STRIP, *records), iri("fragment", "Strip"))
    assert [stay.leaving for stay in life.stays] == [records[1]]
