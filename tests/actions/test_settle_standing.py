"""Pieces are found by where they are now, by how complete their records are, and by their pictures."""

from __future__ import annotations

import pytest

from guardbook.actions.check_record import check_record
from guardbook.actions.dates_found import Run, dates_found
from guardbook.actions.find_records import facets_in_words, find_records
from guardbook.actions.load_demo import load_demo
from guardbook.actions.settle_standing import NOTHING_YET, settle_standing
from guardbook.catalogue.access import Access
from guardbook.completeness.stages import STAGES
from guardbook.records.agent import Agent
from guardbook.wording import speaking
from tests.binding.bench import library, made, move, piece, placing, separation, volume
from tests.catalogue.shelf import changed, save, strip
from tests.catalogue.shelf import made as any_record

CITY, MUSEUM = library("City Library"), library("Museum")
BOOK = volume("Book of tithes", "1510", "2020", keeper=CITY.id)
IN, OUT, ALONE = piece("In place", material="parchment"), piece("Taken out"), piece("Loose")
PUTS = [placing(f"put {name}", name, "Book of tithes", 1) for name in ("In place", "Taken out")]
OFF = separation("off", "Taken out", "Book of tithes", 2, when="2020", undoes=PUTS[1].id)


@pytest.fixture(autouse=True)
def shelf(workshop: Access) -> None:
    save(workshop, CITY, MUSEUM, BOOK, IN, OUT, ALONE, *PUTS, OFF)


def found(access: Access, **facets: str) -> set[str]:
    settle_standing(access)
    return {hit.title for hit in find_records(access, kind="fragment", facets=facets).hits}


def test_a_piece_is_found_by_where_it_is_and_not_where_it_was(workshop: Access) -> None:
    assert found(workshop, whereNow="in-volume") == {"In place"}
    assert found(workshop, whereNow="unknown") == {"Taken out", "Loose"}
    save(workshop, move("lent", "Taken out", wentTo=MUSEUM.id, when="2021"))
    assert found(workshop, whereNow="kept") == found(workshop, keeper=MUSEUM.id) == {"Taken out"}


def test_a_piece_in_its_volume_is_kept_by_the_keeper_of_the_volume(workshop: Access) -> None:
    assert found(workshop, keeper=CITY.id) == {"In place"}
    save(workshop, changed(BOOK, keeper=MUSEUM.id), from_revision=1)
    assert found(workshop, keeper=CITY.id) == set()
    assert found(workshop, keeper=MUSEUM.id) == {"In place"}


def test_a_keeper_who_is_not_named_is_no_way_to_find_a_piece(workshop: Access, public: Access) -> None:
    owner = made(Agent, "Owner", name="Anna Verrin")
    save(workshop, owner)
    save(workshop, changed(ALONE, keeper=owner.id), from_revision=1)
    assert found(workshop, keeper=owner.id) == {"Loose"}
    assert found(public, keeper=owner.id) == set()


def test_pieces_without_a_picture_are_found_until_there_is_one(workshop: Access) -> None:
    assert found(workshop, hasImage="yes") == set()
    save(workshop, any_record("image", "photo", depicts=[ALONE.id]))
    assert found(workshop, hasImage="yes") == {"Loose"}
    assert found(workshop, hasImage="no") == {"In place", "Taken out"}


def test_a_picture_for_the_workshop_alone_is_none_for_the_public(workshop: Access, public: Access) -> None:
    save(workshop, any_record("image", "photo", depicts=[ALONE.id], visibility="workshop"))
    assert found(workshop, hasImage="yes") == {"Loose"}
    assert found(public, hasImage="yes") == set()


def test_a_record_is_found_by_the_last_stage_it_is_complete_for(workshop: Access, public: Access) -> None:
    load_demo(workshop, if_empty=False)
    settle_standing(workshop)
    by_stage = {
        stage: find_records(workshop, kind="fragment", facets={"completeFor": stage}, limit=2).hits
        for stage in (NOTHING_YET, *STAGES)
    }
    assert all(by_stage.values())
    for number, (stage, hits) in enumerate(by_stage.items()):
        for hit in hits:
            assert stage == NOTHING_YET or check_record(workshop, hit.iri, stage).complete
            following = STAGES[number] if number < len(STAGES) else None
            assert following is None or not check_record(workshop, hit.iri, following).complete
    assert "completeFor" not in find_records(public).facets


def test_what_is_still_to_be_worked_out_is_counted_and_then_done(workshop: Access) -> None:
    save(workshop, *(strip(f"strip {number}") for number in range(30)))
    first = find_records(workshop, patience_seconds=0.001)
    assert first.waiting > 0
    assert find_records(workshop, patience_seconds=None).waiting == 0


def test_the_facets_are_called_in_the_language_of_the_reader(workshop: Access) -> None:
    settle_standing(workshop)
    with speaking("de"):
        facets = facets_in_words(workshop, find_records(workshop, kind="fragment"))
    labels = {facet.name: facet.label for facet in facets}
    assert labels["material"] == "Material"
    assert {"whereNow", "keeper", "hasImage"} <= labels.keys()
    assert "Pergament" in {value.label for facet in facets for value in facet.values}


def test_dates_found_are_told_in_round_runs_of_years(workshop: Access) -> None:
    dates = {"old": "14XX", "exact": "1510", "open": "1520/..", "undated": None}
    save(workshop, *(strip(name, dateMade=date) for name, date in dates.items() if date), strip("undated"))
    assert dates_found(workshop, kind="fragment") == tuple(
        Run(first, first + 19, 1) for first in range(1400, 1521, 20)
    )
    assert dates_found(workshop, "nothing of the kind") == ()


def test_the_years_around_those_asked_for_are_shown_too(workshop: Access) -> None:
    save(workshop, strip("old", dateMade="1410"), strip("young", dateMade="1510"))
    asked = dates_found(workshop, kind="fragment", facets={"date": "1410"})
    assert asked == dates_found(workshop, kind="fragment")
    assert sum(run.count for run in asked) == 2
