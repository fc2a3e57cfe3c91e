"""A full disk keeps nothing of a save, loses nothing of before, and says so."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import StorageFailed
from tests.catalogue.shelf import changed, save, strip

PIECE = strip(note="here before")
LONG = "A long description of what was seen. " * 2000


def limited(access: Access, pages: int) -> None:
    """Let the ledger's file have no more than so many pages, as a full disk would."""
    with access._ledger.connections.writing() as connection:
        connection.execute(f"PRAGMA max_page_count = {pages}")


def test_nothing_is_kept_and_nothing_lost_when_the_ledger_finds_no_room(tmp_path: Path) -> None:
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, PIECE)
        limited(access, 1)
        with pytest.raises(StorageFailed, match="Make room on the disk") as caught:
            save(access, changed(PIECE, note=LONG), from_revision=1)
        assert caught.value.message.startswith("Nothing was changed")
        with pytest.raises(StorageFailed):
            save(access, *(strip(f"piece {number}", note=LONG) for number in range(3)))
        assert access.record(PIECE.id).record == PIECE
        assert list(access.iris()) == [PIECE.id]
        assert access.find("long").total == 0
        assert access.verify() == ()
        limited(access, 1_000_000)
        save(access, changed(PIECE, note=LONG), from_revision=1)
        assert access.find("long").total == 1
        assert access.verify() == ()


SAVE_UNTIL_FULL = """
import pathlib, resource, sys
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import StorageFailed
from tests.catalogue.shelf import save, strip

with open_catalogue(pathlib.Path(sys.argv[1])) as catalogue:
    access = catalogue.access()
    resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
    try:
        for number in range(100_000):
            save(access, strip(f"piece {number}", note=f"number {number} " + "seen " * 400))
            print("kept", number, flush=True)
    except StorageFailed as error:
        print("full", error, flush=True)
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    if number:
        print("read", access.record(strip("piece 0").id).record.title, flush=True)
    print("faults", len(access.verify()), flush=True)
"""


@pytest.mark.parametrize("room", [300_000, 1_500_000])
def test_every_save_that_was_acknowledged_before_the_disk_was_full_is_there(
    tmp_path: Path, room: int
) -> None:
    """No file may grow past the limit: the system refuses the write, as it does on a full disk."""
    command = [sys.executable, "-c", SAVE_UNTIL_FULL, str(tmp_path), str(room)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=240)
    lines = done.stdout.splitlines()
    kept = [line for line in lines if line.startswith("kept")]
    assert kept
    assert [line.partition(" ")[0] for line in lines[len(kept) :]] == ["full", "read", "faults"]
    assert "Nothing was changed" in lines[-3]
    assert lines[-1] == "faults 0"
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        assert access.sequence == len(kept)
        assert access.find(f"number {len(kept) - 1}").total >= 1
        assert access.verify() == ()
        save(access, strip("after room was made"))


def test_a_save_is_safe_though_the_graph_finds_no_room(tmp_path: Path) -> None:
    """The graph's folder is taken away and something put in its place that cannot be removed."""
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, PIECE)
    shutil.rmtree(tmp_path / "graph")
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        catalogue._projection._folder = Path("/proc/nowhere/graph")
        catalogue._projection._set_aside()
        save(access, strip("another"))
        assert access.find("another").total == 1
        with pytest.raises(StorageFailed, match="All records are safe"):
            access.about(PIECE.id)
        catalogue._projection._folder = tmp_path / "graph"
        assert access.about(PIECE.id) == ()
        assert access.verify() == ()
