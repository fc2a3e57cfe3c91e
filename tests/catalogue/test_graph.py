"""The graph follows the ledger, whatever becomes of it."""

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pyoxigraph as ox
import pytest

from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from tests.catalogue.shelf import WHO, changed, placing, save, strip, volume

PIECE, HOST = strip(height="45.50"), volume()
PUT = placing(PIECE, HOST)


def store_of(folder: Path) -> ox.Store:
    return ox.Store(str(folder / "graph"))


def filled(folder: Path) -> None:
    with open_catalogue(folder) as catalogue:
        save(catalogue.access(), PIECE, HOST, PUT)


def check_reopened(folder: Path, answer: Callable[[Access], object]) -> None:
    """Open again: the graph answers, and everything fits."""
    with open_catalogue(folder) as catalogue:
        access = catalogue.access()
        answer(access)
        assert access.verify() == ()


def check_answers(access: Access) -> None:
    assert access.about(PIECE.id) == (PUT.id,)


def test_each_record_is_a_named_graph_without_blank_nodes_and_the_default_graph_is_empty(
    tmp_path: Path,
) -> None:
    filled(tmp_path)
    store = store_of(tmp_path)
    names = {name.value for name in store.named_graphs()}
    assert names == {PIECE.id, HOST.id, PUT.id, "urn:guardbook:graph"}
    assert list(store.quads_for_pattern(None, None, None, ox.DefaultGraph())) == []
    nodes = {type(node) for quad in store for node in (quad.subject, quad.object, quad.graph_name)}
    assert ox.BlankNode not in nodes


def test_a_new_revision_replaces_the_graph_and_a_tombstone_empties_it(tmp_path: Path) -> None:
    filled(tmp_path)
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, changed(PIECE, height=None, note="wormed"), from_revision=1)
        access.delete(PUT.id, started_from=1, who=WHO, why="a mistake")
    store = store_of(tmp_path)
    words = {
        quad.predicate.value.rpartition("#")[2]
        for quad in store.quads_for_pattern(None, None, None, ox.NamedNode(PIECE.id))
    }
    assert words == {"type", "title", "note", "material"}
    assert ox.NamedNode(PUT.id) not in store.named_graphs()


def test_the_graph_is_made_again_where_its_folder_was_deleted(tmp_path: Path) -> None:
    filled(tmp_path)
    shutil.rmtree(tmp_path / "graph")
    check_reopened(tmp_path, check_answers)


def test_the_graph_is_made_again_where_files_of_it_were_lost(tmp_path: Path) -> None:
    filled(tmp_path)
    with open_catalogue(tmp_path) as catalogue:
        assert catalogue.access().rebuild() == 3
    lost = [path for path in (tmp_path / "graph").iterdir() if path.name.startswith(("CURRENT", "MANIFEST"))]
    assert lost
    for path in lost:
        path.write_bytes(b"rubbish")
    check_reopened(tmp_path, check_answers)


def test_the_graph_is_made_again_where_something_else_lies_in_its_place(tmp_path: Path) -> None:
    filled(tmp_path)
    shutil.rmtree(tmp_path / "graph")
    (tmp_path / "graph").write_text("a note somebody left", encoding="utf-8")
    check_reopened(tmp_path, check_answers)


def test_the_graph_of_another_catalogue_is_not_taken_for_ours(tmp_path: Path) -> None:
    filled(tmp_path / "ours")
    with open_catalogue(tmp_path / "theirs") as catalogue:
        save(catalogue.access(), *(strip(f"piece {number}") for number in range(3)))
    shutil.rmtree(tmp_path / "ours" / "graph")
    shutil.copytree(tmp_path / "theirs" / "graph", tmp_path / "ours" / "graph")
    check_reopened(tmp_path / "ours", check_answers)


def test_the_graph_goes_back_with_the_ledger_when_a_backup_is_put_back(tmp_path: Path) -> None:
    filled(tmp_path)
    shutil.copy(tmp_path / "ledger.sqlite", tmp_path / "backup")
    with open_catalogue(tmp_path) as catalogue:
        save(catalogue.access(), strip("later"))
    shutil.move(tmp_path / "backup", tmp_path / "ledger.sqlite")
    check_reopened(tmp_path, check_answers)


def test_a_graph_that_stayed_behind_catches_up(tmp_path: Path) -> None:
    filled(tmp_path)
    shutil.copytree(tmp_path / "graph", tmp_path / "older")
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, changed(PIECE, note="wormed"), from_revision=1)
        access.delete(PUT.id, started_from=1, who=WHO, why="a mistake")
        save(access, *(strip(f"piece {number}") for number in range(450)))
    shutil.rmtree(tmp_path / "graph")
    shutil.move(tmp_path / "older", tmp_path / "graph")
    check_reopened(tmp_path, lambda access: access.resolve(PIECE.id))
    assert len({name.value for name in store_of(tmp_path).named_graphs()}) == 453


def test_a_filling_that_was_cut_short_is_begun_again(tmp_path: Path) -> None:
    filled(tmp_path)
    store = store_of(tmp_path)
    store.remove_graph(ox.NamedNode("urn:guardbook:graph"))
    store.remove_graph(ox.NamedNode(PUT.id))
    del store
    check_reopened(tmp_path, check_answers)


def test_a_folder_deleted_under_an_open_catalogue_costs_no_record_and_no_answer(tmp_path: Path) -> None:
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, PIECE, HOST)
        shutil.rmtree(tmp_path / "graph", ignore_errors=True)
        save(access, PUT, *(strip(f"piece {number}") for number in range(300)))
        check_answers(access)
        access.rebuild()
        check_answers(access)
        assert access.verify() == ()
    check_reopened(tmp_path, check_answers)


def test_rebuilding_makes_search_and_facets_anew_too(tmp_path: Path) -> None:
    filled(tmp_path)
    connection = sqlite3.connect(tmp_path / "ledger.sqlite")
    connection.executescript(
        "DELETE FROM texts; DELETE FROM codes; DELETE FROM facets;"
        "DELETE FROM named; DELETE FROM names; DELETE FROM heads"
    )
    connection.close()
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        assert access.find("strip").total == 0
        assert access.verify() != ()
        access.rebuild()
        assert access.find("strip").total == 1
        assert access.verify() == ()


@pytest.mark.parametrize("times", [1, 2])
def test_rebuilding_gives_the_number_of_records(tmp_path: Path, times: int) -> None:
    filled(tmp_path)
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        access.delete(PUT.id, started_from=1, who=WHO, why="a mistake")
        assert [access.rebuild() for _ in range(times)] == [2] * times
        assert access.verify() == ()
