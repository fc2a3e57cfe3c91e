"""The whole catalogue of 10,000 pieces in every format, each in a process whose memory is watched.

The baseline is the raw dump of a bare store with the same statements. Memory that grows with the catalogue
would show as a higher peak than that of a catalogue of a tenth of the size.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median

import pyoxigraph as ox
import pytest

from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Change
from guardbook.exports.formats import FORMATS
from guardbook.records.mapping import to_quads
from tests.benchmarks.many_pieces import records
from tests.benchmarks.measuring import seconds, tell

PIECES, FEW = 10_000, 1_000
TOP = Path(__file__).resolve().parents[2]
# what a process of its own does: open the catalogue, hand all of it on, and say how it went
CHILD = """
import json, re, sys, time
from pathlib import Path
from guardbook.actions.{module} import {action}
from guardbook.actions.open_catalogue import opened
folder, output = map(Path, sys.argv[1:3])
def peak_mb():
    return int(re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]) >> 10
with opened(folder=folder) as access:
    count, started = len(list(access.iris())), time.perf_counter()
    before = peak_mb()
    {call}
    print(json.dumps([count, time.perf_counter() - started, before, peak_mb()]))
"""
EXPORT = "export_records(access, None, sys.argv[3], output.open('wb'))"
PACKET = "make_packet(access, None, output.open('w+b'))"
ARCHIVE = "archive_catalogue(access, output)"


class Handed(tuple[int, float, int, int]):
    """How many records were handed on, in how many seconds, and the memory in MB before and at the peak."""

    __slots__ = ()


def handed_on(folder: Path, output: Path, module: str, call: str, *words: str) -> Handed:
    """Do it in a process of its own."""
    action = call.partition("(")[0]
    code = CHILD.format(module=module, action=action, call=call)
    command = [sys.executable, "-c", code, str(folder), str(output), *words]
    done = subprocess.run(command, cwd=TOP / "service", capture_output=True, text=True, check=True)
    return Handed(json.loads(done.stdout))


def filled(folder: Path, pieces: int) -> Path:
    with opened(folder=folder) as access:
        changes = [Change(record, None) for record in records(pieces)]
        access.save(changes, who="bench", what_for="measured")
    return folder


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(tmp_path_factory.mktemp("many"), PIECES)


@pytest.fixture(scope="module")
def few(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(tmp_path_factory.mktemp("few"), FEW)


@pytest.fixture(scope="module")
def dump(tmp_path_factory: pytest.TempPathFactory) -> Callable[[], float]:
    """Give what times the raw dump of a bare store with the same statements."""
    folder = tmp_path_factory.mktemp("bare")
    store = ox.Store(str(folder / "store"))
    store.bulk_extend(quad for record in records(PIECES) for quad in to_quads(record))
    store.optimize()

    def once() -> float:
        return seconds(lambda: store.dump(str(folder / "dump.nq"), format=ox.RdfFormat.N_QUADS))

    return lambda: median(once() for _ in range(3))


def is_streamed(name: str, size: int, dumped: float, whole: Handed, part: Handed) -> bool:
    """Tell the figures, and say whether ten times the records took little more than some full caches."""
    count, took, before, peak = whole
    tell(
        f"{count:,} records as {name}",
        f"{took:.1f} s ({count / took:.0f} records a second), {size / 1e6:.1f} MB; raw dump {dumped:.2f} s, "
        f"{took / dumped:.0f}x; memory {before} MB before, {peak} MB at the peak "
        f"({part[3]} MB for a tenth of the records)",
    )
    assert count > 3 * PIECES
    return peak < part[3] + 100


# labels are typeset together, on one document of many sheets
@pytest.mark.parametrize("name", [name for name in FORMATS if name != "labels"])
def test_the_whole_catalogue_in_a_format(
    many: Path, few: Path, dump: Callable[[], float], name: str, tmp_path: Path
) -> None:
    part = handed_on(few, tmp_path / "few", "export_records", EXPORT, name)
    dumped = dump()
    whole = handed_on(many, tmp_path / "many", "export_records", EXPORT, name)
    assert is_streamed(name, (tmp_path / "many").stat().st_size, dumped, whole, part)


def test_the_whole_catalogue_as_a_packet(
    many: Path, few: Path, dump: Callable[[], float], tmp_path: Path
) -> None:
    part = handed_on(few, tmp_path / "few.zip", "make_packet", PACKET)
    whole = handed_on(many, tmp_path / "many.zip", "make_packet", PACKET)
    assert is_streamed("a packet", (tmp_path / "many.zip").stat().st_size, dump(), whole, part)


def test_the_whole_catalogue_as_an_archive(
    many: Path, few: Path, dump: Callable[[], float], tmp_path: Path
) -> None:
    part = handed_on(few, tmp_path / "few", "archive_catalogue", ARCHIVE)
    whole = handed_on(many, tmp_path / "many", "archive_catalogue", ARCHIVE)
    size = sum(path.stat().st_size for path in (tmp_path / "many").rglob("*") if path.is_file())
    assert is_streamed("an archive, begun", size, dump(), whole, part)
    again = handed_on(many, tmp_path / "many", "archive_catalogue", ARCHIVE)
    assert is_streamed("an archive, nothing new", size, dump(), again, part)
