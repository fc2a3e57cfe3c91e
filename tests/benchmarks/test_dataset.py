"""SPARQL in a process of its own, the public's graph, dumps and the feed, over 10,000 pieces."""

from __future__ import annotations

import gzip
import tracemalloc
from collections.abc import Iterator

import pyoxigraph as ox
import pytest

from guardbook.actions.ask_sparql import ask_sparql
from guardbook.actions.describe_dataset import facts_of
from guardbook.actions.dump_records import dump_records
from guardbook.actions.open_catalogue import opened_for_all
from guardbook.actions.tell_changes import page_of_changes
from guardbook.catalogue.access import Access, Change, Viewer
from guardbook.records.mapping import to_quads
from guardbook.settings import NAMESPACE
from tests.benchmarks.many_pieces import identifier, records
from tests.benchmarks.measuring import in_turn, seconds, tell

PIECES = 10_000
COUNT = f"SELECT ?kind (COUNT(*) AS ?n) {{ ?thing <{NAMESPACE}featureKind> ?kind }} GROUP BY ?kind"
ONE = f"SELECT ?p ?o {{ <https://guardbook.example/fragment/{identifier(77)}> ?p ?o }}"
Views = dict[Viewer, Access]


@pytest.fixture(scope="module")
def views(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Views]:
    with opened_for_all(tmp_path_factory.mktemp("many")) as access_for:
        found = {viewer: access_for(viewer) for viewer in Viewer}
        changes = [Change(record, None) for record in records(PIECES)]
        took = seconds(lambda: found[Viewer.WORKSHOP].save(changes, who="bench", what_for="measured"))
        tell(
            "keeping 10,000 pieces, and what the public is told",
            f"{len(changes) / took:.0f} records a second",
        )
        yield found


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> ox.Store:
    bare = ox.Store(str(tmp_path_factory.mktemp("bare")))
    bare.bulk_extend(quad for record in records(PIECES) for quad in to_quads(record))
    return bare


def asked(access: Access, text: str) -> bytes:
    with ask_sparql(access, text).file as file:
        return file.read()


@pytest.mark.parametrize(("name", "text"), [("one record", ONE), ("60,000 holes counted", COUNT)])
def test_a_question_in_sparql(views: Views, store: ox.Store, name: str, text: str) -> None:
    workshop = views[Viewer.WORKSHOP]
    first = seconds(lambda: asked(workshop, text))

    def bare() -> int:
        return len(list(store.query(text, use_default_graph_as_union=True)))  # type: ignore[arg-type]  # solutions

    assert bare() > 0
    in_turn(f"SPARQL, {name} (the first took {first * 1000:.0f} ms)", lambda: asked(workshop, text), bare, 15)


def test_the_graph_of_the_public(views: Views) -> None:
    public, workshop = views[Viewer.PUBLIC], views[Viewer.WORKSHOP]
    first = seconds(lambda: asked(public, ONE))
    kept = workshop.record(f"https://guardbook.example/fragment/{identifier(77)}")
    newer = kept.record.model_copy(update={"note": "looked at anew"})
    workshop.save([Change(newer, kept.revision)], who="bench", what_for="measured")
    later = seconds(lambda: asked(public, ONE))
    count = sum(1 for _ in public.iris())
    assert count > PIECES
    tell(
        "the public's first question",
        f"{first:.1f} s ({count / first:.0f} records a second); after a change {later * 1000:.0f} ms",
    )


def test_the_numbers_the_dump_and_the_feed(views: Views) -> None:
    public = views[Viewer.PUBLIC]
    counted = seconds(lambda: facts_of(public, "http://here/"))
    again = seconds(lambda: facts_of(public, "http://here/"))
    page = seconds(lambda: page_of_changes(public, 100, "http://here/"))
    tell(
        "the dataset in numbers",
        f"{counted:.2f} s, unchanged {again * 1000:.0f} ms; a page of the feed {page * 1000:.1f} ms",
    )
    tracemalloc.start()
    pieces = list(map(len, dump_records(public, "nq")))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    took = seconds(lambda: sum(map(len, dump_records(public, "nq"))))
    assert gzip.decompress(b"".join(dump_records(public, "nq"))).count(b"\n") > 100_000
    tell("a dump of all records", f"{sum(pieces) >> 10} kB in {took:.1f} s, {peak >> 20} MB at the peak")
