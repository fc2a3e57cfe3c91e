"""Taking out, looking back, and looking after."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.actions.delete_record import delete_record
from guardbook.actions.open_catalogue import opened
from guardbook.actions.rebuild_graph import rebuild_graph
from guardbook.actions.record_history import compare_revisions, record_history, revision_of
from guardbook.actions.verify_catalogue import verify_catalogue
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import Gone, InvalidRecord, NotAllowed, NotFound
from tests.catalogue.shelf import WHO, changed, placing, save, strip, volume

PIECE, HOST = strip(), volume()
PUT = placing(PIECE, HOST)


@pytest.fixture
def access() -> Iterator[Access]:
    """Give the workshop's view of a piece in its volume, the piece revised once."""
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        save(access, PIECE, HOST, PUT)
        save(access, changed(PIECE, note="wormed"), from_revision=1)
        yield access


def test_a_volume_is_not_taken_out_while_a_piece_was_placed_in_it(access: Access) -> None:
    with pytest.raises(InvalidRecord) as caught:
        delete_record(access, HOST.id, started_from=1, who=WHO, why="registered twice")
    assert [fault.where for fault in caught.value.faults] == [PUT.id]
    assert access.has(HOST.id)


def test_once_nothing_names_it_a_record_is_taken_out_and_its_history_stays(access: Access) -> None:
    delete_record(access, PUT.id, started_from=1, who=WHO, why="a mistake")
    tombstone = delete_record(access, HOST.id, started_from=1, who=WHO, why="registered twice")
    assert delete_record(access, HOST.id, started_from=1, who=WHO, why="registered twice") == tombstone
    assert [(rev.number, rev.tombstone) for rev in record_history(access, HOST.id)] == [(1, False), (2, True)]
    assert revision_of(access, HOST.id, 1).record == HOST
    with pytest.raises(Gone, match="registered twice"):
        revision_of(access, HOST.id, 2)


def test_the_revisions_of_a_record_are_told_one_by_one(access: Access) -> None:
    first, second = record_history(access, PIECE.id)
    assert (first.number, second.number) == (1, 2)
    assert first.who == second.who == WHO
    assert second.when >= first.when
    assert compare_revisions(access, PIECE.id, 1, 2) == ("Note: wormed (was empty)",)
    with pytest.raises(NotFound, match="no revision 3"):
        revision_of(access, PIECE.id, 3)


def test_the_catalogue_is_verified_and_made_anew(access: Access) -> None:
    assert verify_catalogue(access) == ()
    assert rebuild_graph(access) == 3
    assert verify_catalogue(access) == ()


def test_a_catalogue_is_opened_for_one_viewer_in_the_folder_of_the_settings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GUARDBOOK_DATA", str(tmp_path / "data"))
    settings.current.cache_clear()
    try:
        with opened() as access:
            save(access, PIECE)
        with opened(Viewer.PUBLIC) as access:
            assert access.has(PIECE.id)
            with pytest.raises(NotAllowed):
                rebuild_graph(access)
        with opened(folder=tmp_path / "elsewhere") as access:
            assert not access.has(PIECE.id)
    finally:
        monkeypatch.undo()
        settings.current.cache_clear()
