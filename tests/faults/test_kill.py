"""A process killed at any moment loses nothing that was acknowledged, and leaves nothing half done."""

from __future__ import annotations

import multiprocessing
import random
import sqlite3
import time
from collections import Counter
from pathlib import Path

import pytest

from guardbook.catalogue.catalogue import open_catalogue
from tests.faults.keep_saving import BATCH, keep_saving

TIMES = 100

pytestmark = pytest.mark.slow
# A process forked from one that has all imports is there at once; where there is none, each imports anew.
FORKS = "forkserver" in multiprocessing.get_all_start_methods()
CONTEXT = multiprocessing.get_context("forkserver") if FORKS else multiprocessing.get_context("spawn")
CONTEXT.set_forkserver_preload(["tests.faults.keep_saving"])


def killed_while_saving(folder: Path, name: str, seconds: float) -> list[tuple[str, int, str]]:
    """Start a process that saves, kill it some time after it opened the catalogue, give what it was told."""
    here, there = CONTEXT.Pipe(duplex=False)
    process = CONTEXT.Process(target=keep_saving, args=(folder, name, there))
    process.start()
    there.close()
    acknowledged: list[tuple[str, int, str]] = list(here.recv())
    time.sleep(seconds)
    process.kill()
    process.join()
    try:
        while True:
            acknowledged += here.recv()
    except (EOFError, OSError):
        here.close()
    return acknowledged


def test_a_hundred_kills_lose_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    chance = random.Random(20260)
    acknowledged: list[tuple[str, int, str]] = []
    for number in range(TIMES):
        acknowledged += killed_while_saving(tmp_path, f"process {number}", chance.uniform(0.0, 0.12))
    assert len(acknowledged) > TIMES
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        kept = {
            (rev.iri, rev.number, rev.sha256) for iri, _, _ in acknowledged for rev in access.history(iri)
        }
        assert set(acknowledged) - kept == set()
        assert access.verify() == ()
    assert batches_torn(tmp_path) == []


def batches_torn(folder: Path) -> list[str]:
    """Give the moments at which a save was kept in part: one save has one moment, of 1 or all entries."""
    connection = sqlite3.connect(folder / "ledger.sqlite")
    entries = Counter(moment for (moment,) in connection.execute("SELECT moment FROM revisions"))
    connection.close()
    assert BATCH in entries.values()
    return [moment for moment, count in entries.items() if count not in {1, BATCH}]
