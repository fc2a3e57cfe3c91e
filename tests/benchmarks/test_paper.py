"""What a paper costs: reports, a sheet for the bench, sheets of labels, from the demo."""

from __future__ import annotations

import statistics
from collections.abc import Callable

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.actions.make_bench_sheet import make_bench_sheet
from guardbook.actions.make_label import make_labels
from guardbook.actions.make_report import make_report
from guardbook.catalogue.catalogue import open_catalogue
from tests.benchmarks.measuring import seconds, tell

pytestmark = pytest.mark.benchmark
RUNS = 7
DECRETALS = "host/N6Y9VM-C"


def test_what_a_paper_costs() -> None:
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        load_demo(access, if_empty=True)
        pieces = list(access.iris("fragment"))
        papers: dict[str, Callable[[], bytes]] = {
            "the owner's report of a volume with 11 pieces": lambda: make_report(access, DECRETALS),
            "the scholar's sheet of it": lambda: make_report(access, DECRETALS, "scholar"),
            "a bench sheet": lambda: make_bench_sheet(access, DECRETALS),
            f"{len(pieces)} labels": lambda: make_labels(access, pieces, "a4"),
        }
        for name, make in papers.items():
            size = len(make())
            times = [seconds(make) for _ in range(RUNS)]
            tell(
                name,
                f"{statistics.median(times):.2f} s (worst of {RUNS} {max(times):.2f}), {size // 1000} kB",
            )
            assert size > 0
