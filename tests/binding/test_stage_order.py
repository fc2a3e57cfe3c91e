"""The order of stages against dates."""

from __future__ import annotations

from guardbook.binding.stage_order import stage_clashes
from guardbook.records.base import Record
from tests.binding.bench import dossier, iri, placing, separation, volume

BOOK = iri("host", "Book")


def told(*records: Record, piece: str | None = None) -> list[tuple[str, tuple[str, ...]]]:
    clashes = stage_clashes(dossier(*records), BOOK, iri("fragment", piece) if piece else None)
    return [(clash.kind, clash.events) for clash in clashes]


def test_stages_whose_dates_run_with_their_numbers_are_no_contradiction() -> None:
    assert told(volume("Book", "1510~", "1650", None, "2020")) == []


def test_a_stage_dated_before_the_one_it_follows_is_told() -> None:
    assert told(volume("Book", "1650", "1510")) == [("stages-against-dates", ())]


def test_a_separation_dated_before_its_piece_was_put_in_is_told_with_both_events() -> None:
    put = placing("put", "Core", "Book", 2, when="1893")
    off = separation("off", "Core", "Book", 3, when="1871")
    (clash,) = stage_clashes(dossier(volume("Book", None, None, None), put, off), BOOK)
    assert clash.events == (put.id, off.id)
    assert "the separation of 1871" in clash.words()
    assert "but is dated before it" in clash.words()


def test_an_event_dated_before_an_earlier_stage_is_told() -> None:
    off = separation("off", "Core", "Book", 3, when="1871")
    assert told(volume("Book", None, "1893", None), off) == [("stages-against-dates", (off.id,))]


def test_about_a_year_may_be_some_years_off() -> None:
    off = separation("off", "Core", "Book", 2, when="1505")
    assert told(volume("Book", "1510~", None), off) == []


def test_an_event_may_fall_before_the_day_its_own_stage_was_complete() -> None:
    assert told(volume("Book", "1510", "2020-03"), separation("off", "Core", "Book", 2, when="2020-01")) == []


def test_a_sequence_against_the_dates_of_one_stage_is_told() -> None:
    first = placing("first", "Core", "Book", 1, when="1512", sequence=1)
    second = placing("second", "Strip", "Book", 1, when="1510", sequence=2)
    assert told(volume("Book", None), first, second) == [("stages-against-dates", (first.id, second.id))]


def test_a_stage_that_the_volume_does_not_have_is_told() -> None:
    put = placing("put", "Core", "Book", 7)
    assert told(volume("Book", "1510"), put) == [("stage-not-there", (put.id,))]


def test_a_stage_that_is_not_named_contradicts_no_date() -> None:
    put = placing("put", "Core", "Book", None, when="1400")
    assert told(volume("Book", "1510", "1650"), put) == []


def test_a_piece_is_told_only_what_its_own_events_are_part_of() -> None:
    book = volume("Book", "1650", "1510", None)
    off = separation("off", "Core", "Book", 3, when="1400")
    put = placing("put", "Strip", "Book", 1)
    assert told(book, off, put, piece="Strip") == []
    assert told(book, off, put, piece="Core") == [("stages-against-dates", (off.id,))]
