"""The overview for the workshop: what is open, what is about to be lost, what clashes, what is away."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.before_lifting import before_lifting, go_ahead
from guardbook.actions.bench import LISTS, Bench, BenchSection, bench
from guardbook.actions.find_records import find_records
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import NotAllowed, WrongUse
from tests.binding.bench import library, piece, placing, separation, volume
from tests.catalogue.shelf import changed, save
from tests.demo.survey import GUARD, PASTEDOWN, PATCH, survey

BOOK = volume("Book", "1500", "2020", "2021")
STRIP = piece("Strip")


@pytest.fixture
def catalogue() -> Iterator[Access]:
    with open_catalogue(None) as opened:
        yield opened.access()


@pytest.fixture
def on_the_bench(demo: Access) -> Iterator[Access]:
    """Give the volume on the bench in a catalogue of its own."""
    with open_catalogue(None) as opened:
        save(opened.access(), *survey(demo))
        yield opened.access()


def listed(access: Access, name: str) -> BenchSection:
    (section,) = (one for one in whole(access).sections if one.name == name)
    return section


def whole(access: Access) -> Bench:
    return bench(access, patience_seconds=None)


def titles(section: BenchSection) -> list[str]:
    return [one.title for one in section.items]


def test_planned_removals_are_open_and_lead_to_the_page_before_lifting(on_the_bench: Access) -> None:
    section = listed(on_the_bench, "planned")
    assert {one.page for one in section.items} == {
        f"{one}/before-lifting" for one in (PASTEDOWN, GUARD, PATCH)
    }
    assert "Survey of the weirs" in section.items[0].words


def test_pieces_with_most_to_lose_come_first_and_complete_ones_not_at_all(on_the_bench: Access) -> None:
    section = listed(on_the_bench, "never-again")
    gates = [before_lifting(on_the_bench, one) for one in (PATCH, GUARD)]
    counts = [len(gate.never_again) for gate in gates]
    assert counts == sorted(counts, reverse=True)
    assert [one.words for one in section.items] == [f"{n} things cannot be recorded later" for n in counts]
    assert titles(section) == [gate.piece.display_title for gate in gates]


def test_a_removal_that_went_ahead_is_off_the_list_at_the_next_look(on_the_bench: Access) -> None:
    whole(on_the_bench)
    go_ahead(on_the_bench, GUARD, started_from=1, when="2025-11-24", because="It presses.", who="Mirela")
    assert listed(on_the_bench, "planned").count == 2
    assert "Sewing guard of gathering 4" not in titles(listed(on_the_bench, "never-again"))
    assert "Sewing guard of gathering 4" in titles(listed(on_the_bench, "away"))


def test_what_contradicts_itself_is_counted_once_though_order_and_dates_both_fail(demo: Access) -> None:
    assert {one.title: one.words for one in listed(demo, "contradictions").items} == {
        "Chronicle of the towns on the Ombrisse, 1530": "2 contradictions",
        "Decretals with commentary, printed 1541": "2 contradictions",
        "Antiphoner of Castrimur": "1 contradiction",
    }


def test_lost_pieces_and_strays_are_those_whose_place_is_not_known(demo: Access) -> None:
    section = listed(demo, "place-unknown")
    words = {one.title: one.words for one in section.items}
    assert words["Flyleaf, seen in 1974 and not since"].startswith("lost; the last that is known")
    assert "which volume it comes from is not known" in words["Strip found in a drawer"]


def test_a_piece_that_is_back_in_its_place_is_not_away(catalogue: Access) -> None:
    keeper = library("Abbey")
    lifted = separation("off", "Strip", "Book", when="2020", wentTo=keeper.id)
    save(catalogue, BOOK, STRIP, keeper, placing("on", "Strip", "Book"), lifted)
    assert titles(listed(catalogue, "away")) == ["Strip"]
    assert listed(catalogue, "away").items[0].words == "since 2020, with Abbey"
    back = placing("back", "Strip", "Book", 3, when="2021", undoes=lifted.id)
    save(catalogue, back)
    assert listed(catalogue, "away").count == 0


def test_what_a_contradiction_hung_on_is_looked_at_again_when_it_is_mended(catalogue: Access) -> None:
    other = volume("Other", "1500")
    first = placing("first", "Strip", "Book", when="1500")
    second = placing("second", "Strip", "Other", when="1510")
    save(catalogue, BOOK, other, STRIP, first, second)
    assert listed(catalogue, "contradictions").count > 0
    save(catalogue, changed(second, status="planned"), from_revision=1)
    assert listed(catalogue, "contradictions").count == 0


def test_long_lists_are_cut_short_and_one_can_be_had_whole(demo: Access) -> None:
    short = listed(demo, "away")
    (long,) = bench(demo, "away", patience_seconds=None).sections
    assert len(short.items) < short.count == long.count == len(long.items)
    assert f"And {short.count - len(short.items)} more." in whole(demo).words()


def test_an_empty_catalogue_has_nothing_on_the_bench(catalogue: Access) -> None:
    assert [section.count for section in whole(catalogue).sections] == [0] * len(LISTS)
    assert "Nothing is planned." in whole(catalogue).words()


def test_without_patience_it_says_how_much_is_still_to_be_looked_at(catalogue: Access) -> None:
    save(catalogue, *(piece(f"Piece {number}") for number in range(5)))
    told = bench(catalogue, patience_seconds=0)
    assert 0 < told.waiting < 5
    assert "still being looked at" in told.words()
    assert "Contradictions: none among what has been looked at so far." in told.words()


def test_nobody_searches_by_what_the_overview_is_made_of(demo: Access) -> None:
    found = find_records(demo, kind="fragment", patience_seconds=None)
    assert not [name for name in found.facets if name.startswith("bench")]
    with pytest.raises(WrongUse):
        find_records(demo, facets={"benchAway": "x"})


def test_it_is_for_the_workshop_only() -> None:
    with open_catalogue(None) as opened, pytest.raises(NotAllowed):
        bench(opened.access(Viewer.PUBLIC))


def test_a_list_that_there_is_not_is_refused(catalogue: Access) -> None:
    with pytest.raises(WrongUse, match="place-unknown"):
        bench(catalogue, "everything")
