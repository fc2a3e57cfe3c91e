"""How pieces and volumes stand is worked out anew for whatever a change may touch, and for nothing else."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.catalogue.shelf import WHO, changed, made, placing, save, strip, volume

PIECE, OTHER, HOST, ELSEWHERE = strip(), strip("other"), volume(), volume("elsewhere")
PUT = placing(PIECE, HOST)
PHOTO = made("image", "photo", depicts=[OTHER.id])


@pytest.fixture
def looked_at(workshop: Access) -> Callable[[str], set[str]]:
    """Give what gives the records that are looked at under some rules, each once, until none is left."""
    save(workshop, PIECE, OTHER, HOST, ELSEWHERE, PUT, PHOTO)

    def look(rules: str = "as ever") -> set[str]:
        seen: list[str] = []

        def work_out(iri: str) -> tuple[tuple[str, str], ...]:
            seen.append(iri)
            return (("whereNow", "kept"),)

        while workshop.settle(rules, work_out, at_most=2):
            pass
        assert len(seen) == len(set(seen))
        return set(seen)

    assert look() == {PIECE.id, OTHER.id, HOST.id, ELSEWHERE.id}
    return look


def test_nothing_is_looked_at_where_nothing_changed(looked_at: Callable[[str], set[str]]) -> None:
    assert looked_at("as ever") == set()


def test_everything_is_looked_at_under_other_rules(looked_at: Callable[[str], set[str]]) -> None:
    assert looked_at("a shape was added") == {PIECE.id, OTHER.id, HOST.id, ELSEWHERE.id}


def test_what_a_new_event_names_is_looked_at(workshop: Access, looked_at: Callable[[str], set[str]]) -> None:
    save(workshop, placing(OTHER, ELSEWHERE))
    assert {OTHER.id, ELSEWHERE.id} <= looked_at("as ever")
    assert looked_at("as ever") == set()


def test_a_changed_volume_has_its_pieces_looked_at_and_no_others(
    workshop: Access, looked_at: Callable[[str], set[str]]
) -> None:
    save(workshop, changed(HOST, title="Another title"), from_revision=1)
    assert looked_at("as ever") == {HOST.id, PIECE.id}


def test_a_piece_that_an_event_no_longer_names_is_looked_at_too(
    workshop: Access, looked_at: Callable[[str], set[str]]
) -> None:
    save(workshop, changed(PUT, piece=OTHER.id), from_revision=1)
    assert {PIECE.id, OTHER.id, HOST.id} <= looked_at("as ever")


def test_what_a_picture_taken_out_showed_is_looked_at(
    workshop: Access, looked_at: Callable[[str], set[str]]
) -> None:
    workshop.delete(PHOTO.id, started_from=1, who=WHO, why="of another piece")
    assert looked_at("as ever") == {OTHER.id}


def test_what_changes_while_it_is_worked_out_is_looked_at_again(workshop: Access) -> None:
    save(workshop, PIECE)
    titles: list[str] = []

    def work_out(iri: str) -> tuple[tuple[str, str], ...]:
        titles.append(workshop.record(iri).record.title or "")
        if len(titles) == 1:
            save(workshop, changed(PIECE, title="Changed meanwhile"), from_revision=1)
        return ()

    while workshop.settle("as ever", work_out):
        pass
    workshop.settle("as ever", work_out)
    assert titles[-1] == "Changed meanwhile"


def test_each_audience_is_told_what_was_worked_out_for_it(workshop: Access, public: Access) -> None:
    save(workshop, PIECE)
    workshop.settle("as ever", lambda _iri: (("whereNow", "kept"),))
    assert workshop.find(facets={"whereNow": "kept"}).total == 1
    assert public.find(facets={"whereNow": "kept"}).total == 0
    public.settle("as ever", lambda _iri: (("whereNow", "unknown"),))
    assert public.find().facets["whereNow"] == {"unknown": 1}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with open_catalogue(tmp_path / "kept") as catalogue:
        save(catalogue.access(), PIECE)
        catalogue.access().settle("as ever", lambda _iri: (("hasImage", "no"),))
    return tmp_path / "kept"


def test_it_is_kept_and_a_rebuild_has_it_worked_out_anew(folder: Path) -> None:
    with open_catalogue(folder) as catalogue:
        access = catalogue.access(Viewer.WORKSHOP)
        assert access.find(facets={"hasImage": "no"}).total == 1
        access.rebuild()
        assert access.find(facets={"hasImage": "no"}).total == 0
        assert access.settle("as ever", lambda _iri: (("hasImage", "yes"),)) == 0
        assert access.find().facets["hasImage"] == {"yes": 1}
        assert access.verify() == ()
