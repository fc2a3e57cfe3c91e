"""`where` on 10,000 pieces: in process and over HTTP, against the same questions put to the bare store."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import httpx
import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.actions.open_catalogue import opened
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Access, Change
from guardbook.records.mapping import to_quads
from tests.benchmarks.many_pieces import identifier, records
from tests.benchmarks.measuring import in_turn, percentile, seconds, tell
from tests.benchmarks.serving import served

PIECES = 10_000
RUNS = 400


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("many")


@pytest.fixture(scope="module")
def access(folder: Path) -> Iterator[Access]:
    with opened(folder=folder) as found:
        changes = [Change(record, None) for record in records(PIECES)]
        took = seconds(lambda: found.save(changes, who="bench", what_for="measured"))
        tell("keeping 10,000 pieces, their volumes and events", f"{len(changes) / took:.0f} records a second")
        yield found


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> ox.Store:
    bare = ox.Store(str(tmp_path_factory.mktemp("bare")))
    bare.bulk_extend(quad for record in records(PIECES) for quad in to_quads(record))
    return bare


def raw(store: ox.Store, fragment: str) -> int:
    """Ask the bare store what `where` needs: the events of the piece, the volume, its events, the records."""
    gb = settings.NAMESPACE
    find = (
        "SELECT ?event ?host WHERE {{ VALUES ?piece {{ <{0}> }} GRAPH ?event {{ ?event <{1}piece> ?piece ;"
        " <{1}host> ?host }} }}"
    )
    around = (
        "SELECT ?event ?piece WHERE {{ VALUES ?host {{ <{0}> }} GRAPH ?event {{ ?event <{1}host> ?host ;"
        " <{1}piece> ?piece }} }}"
    )
    rows = list(store.query(find.format(fragment, gb)))  # type: ignore[arg-type]  # a SELECT gives solutions
    hosts = {row["host"].value for row in rows}
    beside = [row for host in hosts for row in store.query(around.format(host, gb))]  # type: ignore[union-attr]
    wanted = {fragment, *hosts, *(row["event"].value for row in rows)}
    wanted |= {row[name].value for row in beside for name in ("event", "piece")}
    return sum(len(list(store.quads_for_pattern(None, None, None, ox.NamedNode(iri)))) for iri in wanted)


def pieces() -> Iterator[str]:
    return (f"fragment/{identifier(number * 7919 % PIECES)}" for number in itertools.count(1))


def test_where_in_process_against_the_bare_store(access: Access, store: ox.Store) -> None:
    ours, theirs = pieces(), pieces()
    base = settings.current().base
    in_turn(
        "where it sat, 10,000 pieces, in process against the bare store",
        lambda: where_it_sat(access, next(ours)),
        lambda: raw(store, base + next(theirs)),
        RUNS,
    )
    assert raw(store, base + next(theirs)) > 100


def test_where_over_http_against_the_bare_store(access: Access, folder: Path, store: ox.Store) -> None:
    base = settings.current().base
    ours, theirs = pieces(), pieces()
    with served(access) as address, httpx.Client(base_url=address) as client:
        times = [
            (
                seconds(lambda: client.get(f"/api/records/{next(ours)}/where")),
                seconds(lambda: raw(store, base + next(theirs))),
            )
            for _ in range(RUNS)
        ]
        assert client.get(f"/api/records/{next(ours)}/where").status_code == 200
    http, bare = [a for a, _ in times], [b for _, b in times]
    worst, usual = percentile(http, 0.99), percentile(bare, 0.99)
    tell(
        "where it sat over HTTP, 10,000 pieces",
        f"p99 {worst * 1000:.1f} ms against the bare store's p99 {usual * 1000:.1f} ms: {worst / usual:.1f}x",
    )
