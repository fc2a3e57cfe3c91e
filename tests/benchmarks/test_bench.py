"""The overview of the workshop over 10,000 pieces, all away from their volumes."""

from __future__ import annotations

from pathlib import Path

import pytest

from guardbook.actions import settle_standing as settling
from guardbook.actions.bench import bench
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Change
from tests.benchmarks.many_pieces import records
from tests.benchmarks.measuring import percentile, seconds, tell

PIECES, LOOKED_AT, VIEWS = 10_000, 100, 40


def test_the_overview_of_many_pieces(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with opened(folder=tmp_path) as access:
        access.save([Change(record, None) for record in records(PIECES)], who="bench", what_for="measured")
        some = [iri for iri, _ in zip(access.iris("fragment"), range(LOOKED_AT), strict=False)]
        work_out = settling._standing
        took = seconds(lambda: [work_out(access, iri) for iri in some])
        tell("a piece worked out for the overview and the search", f"{took / LOOKED_AT * 1000:.0f} ms")
        # the rows of one piece stand for those of all, which would take as long as the pieces are many
        rows = {("benchAway", '["2024-05-03", "", ""]'), ("benchPlaceUnknown", '["", "unknown", ""]')}
        monkeypatch.setattr(settling, "_standing", lambda _access, _iri: rows)
        settling.settle_standing(access)
        views = [seconds(lambda: bench(access)) for _ in range(VIEWS)]
        tell(
            "the overview of 10,000 pieces",
            f"{percentile(views, 0.5) * 1000:.0f} ms (p99 {percentile(views, 0.99) * 1000:.0f})",
        )
        assert {section.count for section in bench(access).sections} == {0, PIECES + PIECES // 20}
