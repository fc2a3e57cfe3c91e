"""Whoever touches the files from outside is found out, and the place is named."""

import sqlite3
from pathlib import Path

import pyoxigraph as ox
import pytest

from guardbook.catalogue import chain
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import Fault, InvalidRecord
from tests.catalogue.shelf import WHO, changed, made, placing, save, strip, volume

PIECE, HOST = strip(height="45.50", workshopNumber="W 7"), volume()
PUT = placing(PIECE, HOST, function="tacket")
OWNER = made("agent", "owner", name="Berta Quiroga")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give a closed catalogue with five entries: three records, a second revision, a tombstone."""
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, PIECE, HOST, PUT, OWNER)
        save(access, changed(PIECE, note="wormed"), from_revision=1)
        access.delete(PUT.id, started_from=1, who=WHO, why="a mistake")
        assert access.verify() == ()
    return tmp_path


def tampered(folder: Path, *statements: str) -> tuple[Fault, ...]:
    """Change the ledger's file from outside, and verify."""
    connection = sqlite3.connect(folder / "ledger.sqlite")
    connection.executescript("".join(statements))
    connection.close()
    with open_catalogue(folder) as catalogue:
        return catalogue.access().verify()


GHOST = """
    INSERT INTO texts (rowid, title, text) SELECT 2 * id + 1, 'a', 'b' FROM heads WHERE kind = 'agent';
    INSERT INTO codes (rowid, code) SELECT 2 * id + 1, 'c' FROM heads WHERE kind = 'agent'
"""
FREED = "DROP TRIGGER revisions_are_never_changed; DROP TRIGGER revisions_are_never_removed;"


@pytest.mark.parametrize(
    ("change", "entry"),
    [
        ("UPDATE revisions SET body = replace(body, '45.50', '54.50') WHERE sequence = 1", 1),
        ("UPDATE revisions SET body = replace(body, 'wormed', 'sound') WHERE sequence = 5", 5),
        ("UPDATE revisions SET who = 'somebody else' WHERE sequence = 2", 2),
        ("UPDATE revisions SET what_for = 'no reason' WHERE sequence = 6", 6),
        ("UPDATE revisions SET moment = '1999-01-01T00:00:00+00:00' WHERE sequence = 3", 3),
        ("UPDATE revisions SET number = 9 WHERE sequence = 2", 2),
        ("UPDATE revisions SET iri = iri || 'x' WHERE sequence = 4", 4),
        ("UPDATE revisions SET tombstone = 0 WHERE sequence = 6", 6),
        ("UPDATE revisions SET chain = previous WHERE sequence = 5", 5),
        ("UPDATE revisions SET sha256 = previous WHERE sequence = 1", 1),
        ("UPDATE revisions SET body = 'rubbish' WHERE sequence = 2", 2),
        ("DELETE FROM revisions WHERE sequence = 2", 3),
    ],
)
def test_one_altered_entry_is_named(folder: Path, change: str, entry: int) -> None:
    faults = tampered(folder, FREED, change)
    named = [fault for fault in faults if f"(entry {entry} of the ledger)" in fault.where]
    assert named, faults
    assert "backup" in named[0].mend


def test_an_entry_forged_with_all_its_hashes_does_not_fit_the_next_one(folder: Path) -> None:
    connection = sqlite3.connect(folder / "ledger.sqlite")
    connection.row_factory = sqlite3.Row
    connection.executescript(FREED)
    row = connection.execute("SELECT * FROM revisions WHERE sequence = 2").fetchone()
    said = {name: row[name] for name in ("sequence", "iri", "number", "what_for", "sha256", "previous")}
    forged = chain.link(**said, when=row["moment"], who="somebody else", tombstone=False)
    connection.execute("UPDATE revisions SET who = 'somebody else', chain = ? WHERE sequence = 2", (forged,))
    connection.commit()
    connection.close()
    (fault,) = tampered(folder)
    assert "(entry 3 of the ledger)" in fault.where
    assert "the entry before it" in fault.found


def test_the_last_entry_cut_off_is_noticed(folder: Path) -> None:
    faults = tampered(folder, FREED, "DELETE FROM revisions WHERE sequence = 6")
    assert any(PUT.id in fault.where for fault in faults)


@pytest.mark.parametrize(
    ("change", "where", "iri"),
    [
        ("UPDATE texts SET text = 'sound' WHERE title MATCH 'strip'", "the text index", PIECE.id),
        ("DELETE FROM codes", "the text index", PIECE.id),
        ("DELETE FROM facets WHERE value = 'parchment'", "the facets", PIECE.id),
        ("UPDATE heads SET public = 1", "the table of newest revisions", OWNER.id),
        ("UPDATE heads SET number_key = NULL", "the table of newest revisions", PIECE.id),
        ("DELETE FROM names", "the table of names", OWNER.id),
        ("DELETE FROM named", "the table of references", PUT.id),
        (GHOST, "the text index", OWNER.id),
    ],
)
def test_a_row_that_does_not_fit_the_ledger_is_named_and_made_again(
    folder: Path, change: str, where: str, iri: str
) -> None:
    faults = tampered(folder, change)
    assert f"{where}, {iri}" in {fault.where for fault in faults}
    assert {fault.mend for fault in faults} == {"Run `guardbook rebuild`."}
    with open_catalogue(folder) as catalogue:
        access = catalogue.access()
        access.rebuild()
        assert access.verify() == ()


@pytest.mark.parametrize(
    ("change", "iri"),
    [
        (lambda store: store.remove_graph(ox.NamedNode(HOST.id)), HOST.id),
        (
            lambda store: store.update(
                f"INSERT DATA {{ GRAPH <{PIECE.id}> {{ <{PIECE.id}> <{HOST.id}> 1 }} }}"
            ),
            PIECE.id,
        ),
        (
            lambda store: store.update(f"INSERT DATA {{ GRAPH <{PUT.id}> {{ <{PUT.id}> <{PUT.id}> 1 }} }}"),
            PUT.id,
        ),
    ],
    ids=["lost", "added to", "left over"],
)
def test_a_graph_that_does_not_fit_the_ledger_is_named_and_made_again(folder: Path, change, iri: str) -> None:  # type: ignore[no-untyped-def]  # a change to any store
    store = ox.Store(str(folder / "graph"))
    change(store)
    del store
    with open_catalogue(folder) as catalogue:
        access = catalogue.access()
        assert [fault.where for fault in access.verify()] == [f"the graph, {iri}"]
        access.rebuild()
        assert access.verify() == ()


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE revisions SET who = 'x'",
        "DELETE FROM revisions",
        "REPLACE INTO revisions SELECT * FROM revisions",
    ],
)
def test_the_ledger_itself_refuses_to_change_an_entry(folder: Path, change: str) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="an entry of the ledger is never"):
        tampered(folder, "PRAGMA recursive_triggers = ON; ", change)


def test_rebuilding_loses_no_record_that_cannot_be_read(folder: Path) -> None:
    assert tampered(folder, FREED, "UPDATE revisions SET body = 'rubbish' WHERE sequence = 2")
    with open_catalogue(folder) as catalogue:
        access = catalogue.access()
        with pytest.raises(InvalidRecord, match="entry 2 of the ledger"):
            access.rebuild()
        assert access.has(HOST.id)
        assert access.record(PIECE.id).record.note == "wormed"
