"""The order of what happened in one volume, and of what happened to one piece in all of them."""

from __future__ import annotations

import itertools

from guardbook.binding.life_order import order_of_life
from guardbook.binding.ordering import Step, order_at_host
from guardbook.binding.replay import life_of
from guardbook.records.event import Event
from guardbook.records.host import HostVolume
from tests.binding.bench import alteration, dossier, iri, move, piece, placing, separation, volume

BOOK = volume("Book", "1510~", "1650", "2020")


def names(steps: tuple[Step, ...]) -> list[str | None]:
    return [step.event.title for step in steps]


def in_any_order(host: HostVolume | None, *events: Event) -> list[str | None]:
    """Give the order, having seen that it is the same however the events come in."""
    orders = {tuple(names(order_at_host(host, mixed))) for mixed in itertools.permutations(events)}
    assert len(orders) == 1
    return list(orders.pop())


def test_the_number_of_the_stage_comes_before_all_else() -> None:
    late = placing("late", "Strip", "Book", 2, when="1500", sequence=1)
    early = placing("early", "Comb", "Book", 1, when="1700", sequence=2)
    assert in_any_order(BOOK, late, early) == ["early", "late"]


def test_within_a_stage_the_stated_sequence_comes_before_the_dates() -> None:
    first = placing("first", "Strip", "Book", 1, when="1512", sequence=1)
    second = placing("second", "Comb", "Book", 1, when="1511", sequence=2)
    assert in_any_order(BOOK, second, first) == ["first", "second"]


def test_without_a_sequence_the_dates_tell() -> None:
    first = placing("first", "Strip", "Book", 1, when="1510-03")
    second = placing("second", "Comb", "Book", 1, when="1510-05")
    assert in_any_order(BOOK, second, first) == ["first", "second"]


def test_an_event_without_a_sequence_joins_those_that_have_one_by_its_date() -> None:
    one = placing("one", "Strip", "Book", 1, when="1510-02", sequence=1)
    two = placing("two", "Comb", "Book", 1, when="1510-06", sequence=2)
    between = placing("between", "Label", "Book", 1, when="1510-04")
    assert in_any_order(BOOK, two, between, one) == ["one", "between", "two"]


def test_where_nothing_tells_old_things_come_off_before_new_ones_go_on() -> None:
    put = placing("put", "Old", "Book", 1)
    new = placing("new", "New", "Book", 2)
    off = separation("off", "Old", "Book", 2)
    assert in_any_order(BOOK, new, off, put) == ["put", "off", "new"]


def test_a_return_comes_after_the_separation_it_undoes() -> None:
    put = placing("put", "Strip", "Book", 1)
    off = separation("off", "Strip", "Book", 3, when="2020-05")
    back = placing("back", "Strip", "Book", 3, when="2020", undoes=off.id)
    assert in_any_order(BOOK, back, off, put) == ["put", "off", "back"]


def test_a_piece_put_in_and_taken_out_at_one_stage_was_put_in_first() -> None:
    put = placing("put", "Marker", "Book", 2)
    off = separation("off", "Marker", "Book", 2)
    cut = alteration("cut", "Marker", "Book", 2)
    assert in_any_order(BOOK, off, cut, put) == ["put", "off", "cut"]


def test_two_events_that_undo_each_other_are_still_put_in_an_order() -> None:
    off = separation("off", "Strip", "Book", 2, undoes=iri("placing", "back"))
    back = placing("back", "Strip", "Book", 2, undoes=iri("separation", "off"))
    assert sorted(filter(None, in_any_order(BOOK, off, back))) == ["back", "off"]


def test_planned_events_are_left_out() -> None:
    put = placing("put", "Strip", "Book", 1)
    plan = separation("plan", "Strip", "Book", 3, status="planned")
    assert in_any_order(BOOK, plan, put) == ["put"]


def test_an_event_without_a_stage_goes_to_the_last_stage_begun_by_its_date() -> None:
    (step,) = order_at_host(BOOK, [placing("put", "Label", "Book", None, when="1700")])
    assert (step.stage, step.stage_said) == (2, False)


def test_without_stage_and_date_a_placing_belongs_to_the_first_stage_and_a_separation_to_the_last() -> None:
    steps = order_at_host(
        BOOK, [separation("off", "Strip", "Book", None), placing("put", "Strip", "Book", None)]
    )
    assert [(step.event.title, step.stage) for step in steps] == [("put", 1), ("off", 3)]


def test_events_in_a_volume_without_stages_are_ordered_by_what_else_is_known() -> None:
    put = placing("put", "Strip", "Book", None, when="1600")
    off = separation("off", "Strip", "Book", None, when="1700")
    assert in_any_order(None, off, put) == ["put", "off"]


def life(*events: Event) -> list[str | None]:
    """Order a piece's life over the volumes Book and Other, the same however the events come in."""
    hosts = (BOOK, volume("Other", None, None))
    orders = {
        tuple(names(life_of(dossier(piece("Cover"), *hosts, *mixed), iri("fragment", "Cover")).steps))
        for mixed in itertools.permutations(events)
    }
    assert len(orders) == 1
    return list(orders.pop())


def test_a_cover_was_in_the_volume_it_left_before_the_one_that_keeps_it() -> None:
    """No date tells, but only so is it never in two places."""
    assert life(
        placing("other put", "Cover", "Other", 1),
        placing("book put", "Cover", "Book", None),
        separation("book off", "Cover", "Book", None),
    ) == ["book put", "book off", "other put"]


def test_wide_dates_are_read_so_that_the_cover_is_never_in_two_books() -> None:
    """The first use might by its date come after the second; as it ended, it came before."""
    assert life(
        placing("formulary", "Cover", "Book", None, when="166X"),
        placing("quarto", "Cover", "Other", 1, when="15XX/16XX"),
        separation("stripped", "Cover", "Other", 2, when="16XX"),
    ) == ["quarto", "stripped", "formulary"]


def test_dates_that_are_sure_are_kept_even_where_the_piece_is_then_in_two_places() -> None:
    assert life(
        placing("book put", "Cover", "Book", None, when="1510"),
        separation("book off", "Cover", "Book", None, when="1650"),
        placing("other put", "Cover", "Other", 1, when="1600"),
    ) == ["book put", "other put", "book off"]


def test_a_move_without_a_date_comes_when_the_piece_is_out_of_its_volume() -> None:
    assert life(
        move("sold", "Cover"),
        placing("put", "Cover", "Book", None, when="1510"),
        separation("off", "Cover", "Book", None, when="1999"),
    ) == ["put", "off", "sold"]


def test_a_separation_without_a_volume_comes_after_the_placing_it_undoes() -> None:
    put = placing("put", "Cover", "Book", 1)
    assert life(separation("found", "Cover", None, None, undoes=put.id), put) == ["put", "found"]


def test_very_many_moves_are_ordered_without_weighing_every_way() -> None:
    moves = [move(f"move {n:02}", "Cover", when=f"19{n:02}") for n in range(40)]
    steps = [(Step(event, when=event.when),) for event in moves]
    assert names(order_of_life(reversed(steps))) == [event.title for event in moves]
