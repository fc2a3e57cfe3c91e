"""Checking the whole demo, importing 1,000 rows, and the server at rest."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import httpx

from guardbook.actions.add_files import add_files
from guardbook.actions.check_record import check_all
from guardbook.actions.load_demo import load_demo
from guardbook.actions.open_catalogue import opened
from guardbook.completeness.report import Report
from tests.benchmarks.measuring import seconds, tell

ROWS = 1_000
TOP = Path(__file__).resolve().parents[2]


def test_checking_the_whole_demo(tmp_path: Path) -> None:
    with opened(folder=tmp_path) as access:
        loading = seconds(lambda: load_demo(access, if_empty=True))
        reports: list[Report] = []
        checking = seconds(lambda: reports.extend(check_all(access, "ready-to-share")))
        records = len(list(access.iris()))
    assert reports
    tell(
        "the whole demo",
        f"{records} records loaded in {loading:.1f} s, checked for all four stages in {checking:.1f} s "
        f"({len(reports)} reports, {records / checking:.0f} records a second)",
    )


def rows() -> bytes:
    """Make a sheet of pieces as people have it, decimal commas and all."""
    head = "workshop number;title;material;height;width;date made;extent\n"
    body = "".join(
        f"R.{n};Strip {n};parchment;{100 + n % 80},5;{20 + n % 9};15XX;strip\n" for n in range(ROWS)
    )
    return (head + body).encode()


def test_importing_a_thousand_rows(tmp_path: Path) -> None:
    with opened(folder=tmp_path) as access:
        took = seconds(lambda: add_files(access, [("rows.csv", rows())], who="bench", what_for="measured"))
        assert len(list(access.iris("fragment"))) == ROWS
    with opened(folder=tmp_path / "again") as access:
        tracemalloc.start()
        add_files(access, [("rows.csv", rows())], who="bench", what_for="measured")
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    tell(
        "importing 1,000 rows of CSV",
        f"{ROWS / took:.0f} rows a second, peak of Python objects {peak >> 20} MB",
    )


def test_the_server_at_rest(tmp_path: Path) -> None:
    words = [sys.executable, "-m", "guardbook", "serve", "--demo", "--port", "0"]
    env = {**os.environ, "GUARDBOOK_DATA": str(tmp_path), "PYTHONPATH": str(TOP / "service")}
    for name in ("first start, loading the demo", "second start"):
        start = time.perf_counter()
        with subprocess.Popen(
            words, env=env, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        ) as run:
            assert run.stdout
            address = next(
                filter(None, (re.search(r"http://127\.0\.0\.1:\d+", line) for line in run.stdout))
            )[0]
            ready = time.perf_counter() - start
            assert httpx.get(f"{address}/api/records").status_code == 200
            status = Path(f"/proc/{run.pid}/status").read_text(encoding="ascii")
            run.terminate()
        memory = re.search(r"VmRSS:\s+(\d+) kB", status)
        assert memory
        tell(f"the server at rest, {name}", f"ready in {ready:.1f} s, resident {int(memory[1]) >> 10} MB")
