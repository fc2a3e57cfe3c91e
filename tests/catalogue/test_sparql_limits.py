"""Questions in SPARQL are stopped at their limits, and reach nothing but the copy they are asked of."""

from __future__ import annotations

import http.server
import json
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pyoxigraph as ox
import pytest

from guardbook import settings
from guardbook.catalogue.sparql.desk import Desk
from guardbook.catalogue.sparql.question import Question
from guardbook.errors import Busy, QueryRefused, QueryStopped
from guardbook.settings import SparqlLimits

# only Linux lets a process refuse itself sockets; elsewhere it rests on what is refused beforehand
IS_LINUX = sys.platform == "linux"
# each joins everything with everything, the first without end, the second in memory
ENDLESS = """SELECT (COUNT(DISTINCT ?all) AS ?n)
    { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i . BIND(CONCAT(STR(?a), STR(?f), STR(?i)) = "" AS ?all) }"""
GREEDY = "SELECT * { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i } ORDER BY ?c ?f ?i"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Give a store with some triples to multiply."""
    store = ox.Store(str(tmp_path / "copy"))
    node = ox.NamedNode("http://a.example/p")
    store.extend(ox.Quad(node, node, ox.Literal(str(n)), node) for n in range(3000))
    store.flush()
    return tmp_path / "copy"


def test_more_rows_than_are_given_are_told_of(copy: Path) -> None:
    desk = Desk(SparqlLimits(rows=10))
    for text, rows, cut in (
        ("SELECT * { ?s ?p ?o }", 10, True),
        ("SELECT * { ?s ?p ?o } LIMIT 10", 10, False),
        ("CONSTRUCT { ?s ?p ?o } WHERE { ?s ?p ?o }", 10, True),
        ("ASK { ?s ?p ?o }", 1, False),
    ):
        answer = desk.answer(Question(text=text), copy)
        answer.file.close()
        assert (answer.rows, answer.cut) == (rows, cut)


def test_a_question_without_end_is_stopped_and_the_next_is_answered(copy: Path) -> None:
    desk = Desk(SparqlLimits(seconds=2))
    started = time.monotonic()
    with pytest.raises(QueryStopped, match="limit of 2 seconds"):
        desk.answer(Question(text=ENDLESS), copy)
    assert time.monotonic() - started < 60
    with desk.answer(Question(text="ASK { ?s ?p ?o }"), copy).file as file:
        assert json.load(file)["boolean"] is True


def test_a_question_that_takes_more_and_more_memory_is_stopped(copy: Path) -> None:
    desk = Desk(SparqlLimits(seconds=60, memory_mb=200))
    with pytest.raises(QueryStopped, match="200 MB of memory"):
        desk.answer(Question(text=GREEDY), copy)


def test_a_question_nested_beyond_reason_ends_only_itself(copy: Path) -> None:
    desk = Desk(SparqlLimits(seconds=20))
    text = "ASK " + "{" * 60_000 + "?s ?p ?o" + "}" * 60_000
    with pytest.raises((QueryStopped, QueryRefused)):
        desk.answer(Question(text=text), copy)
    desk.answer(Question(text="ASK {}"), copy).file.close()


def test_too_many_questions_at_once_are_sent_away(copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("guardbook.catalogue.sparql.desk.WAITING", 0)
    desk = Desk(SparqlLimits(seconds=5, at_once=1))
    ended: list[type[BaseException]] = []

    def ask() -> None:
        with pytest.raises(QueryStopped) as stopped:
            desk.answer(Question(text=ENDLESS), copy)
        ended.append(stopped.type)

    first = threading.Thread(target=ask)
    first.start()
    while desk._free.acquire(blocking=False):
        desk._free.release()
    with pytest.raises(Busy, match="Too many"):
        desk.answer(Question(text="ASK {}"), copy)
    first.join()
    assert ended == [QueryStopped]
    desk.answer(Question(text="ASK {}"), copy).file.close()


class Listener(http.server.BaseHTTPRequestHandler):
    """Counts who comes."""

    came: list[str]

    def do_GET(self) -> None:  # the server calls it so
        self.came.append(self.path)
        self.send_response(404)
        self.end_headers()

    do_POST = do_GET  # noqa: N815  # the server calls it so


@pytest.fixture
def listener() -> Iterator[tuple[str, list[str]]]:
    """Give the address of a server on this machine, and what was asked of it."""
    came: list[str] = []
    with http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), type("Counting", (Listener,), {"came": came})
    ) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/", came
        server.shutdown()


def test_a_graph_that_is_named_by_its_address_is_not_fetched(
    copy: Path, listener: tuple[str, list[str]]
) -> None:
    address, came = listener
    desk = Desk(SparqlLimits())
    for question in (
        Question(text=f"ASK FROM <{address}> {{ ?s ?p ?o }}"),
        Question(text=f"ASK {{ GRAPH <{address}> {{ ?s ?p ?o }} }}"),
        Question(text="ASK { ?s ?p ?o }", default_graphs=(address,)),
    ):
        with desk.answer(question, copy).file as file:
            assert json.load(file)["boolean"] is False
    assert came == []


def test_even_a_remote_call_that_was_not_seen_does_not_leave_the_process(
    copy: Path, listener: tuple[str, list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    address, came = listener
    remote = Question(text=f"SELECT * {{ SERVICE <{address}> {{ ?s ?p ?o }} }}")
    with pytest.raises(OSError, match="404"):
        next(ox.Store.read_only(str(copy)).query(remote.text))  # type: ignore[arg-type]  # they are solutions
    assert len(came) == 1
    monkeypatch.setattr("guardbook.catalogue.sparql.refusals.check", lambda _text: None)
    with pytest.raises(QueryStopped, match="not permitted" if IS_LINUX else "404"):
        Desk(SparqlLimits()).answer(remote, copy)
    assert len(came) == (1 if IS_LINUX else 2)


def test_the_process_of_a_question_ends_by_itself_when_nobody_waits_for_it(copy: Path) -> None:
    told = {
        "folder": str(copy), "text": ENDLESS, "base": settings.DEFAULT_BASE, "prefixes": {}, "rows": 1,
        "default_graphs": [], "named_graphs": [], "has_dataset": False,
        "solutions_as": "json", "graph_as": "turtle", "seconds": 1, "memory_mb": 500, "most_bytes": 1000,
    }  # fmt: skip
    words = [sys.executable, "-m", "guardbook.catalogue.sparql.child"]
    ran = subprocess.run(
        words, input=json.dumps(told).encode(), capture_output=True, check=False, timeout=120
    )
    assert ran.returncode < 0


def test_an_answer_longer_than_a_file_may_be_is_stopped(copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("guardbook.catalogue.sparql.desk.MOST_BYTES", 20_000)
    with pytest.raises(QueryStopped, match="could not be answered"):
        Desk(SparqlLimits()).answer(Question(text="SELECT * { ?s ?p ?o }"), copy)
