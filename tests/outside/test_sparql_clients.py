"""Clients of the SPARQL 1.1 Protocol that we did not write ask a real server, which limits hold.

Sources: PyPI `SPARQLWrapper`, rdflib's `SPARQLStore`, npm `@comunica/query-sparql`.
"""

from __future__ import annotations

import http.server
import json
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from rdflib import RDF, Graph, URIRef
from rdflib.plugins.stores.sparqlstore import SPARQLStore
from SPARQLWrapper import CSV, JSON, POST, TSV, TURTLE, XML, SPARQLWrapper
from SPARQLWrapper.SPARQLExceptions import EndPointInternalError, QueryBadFormed

from guardbook.settings import NAMESPACE
from tests.outside.served_demo import served_demo

pytestmark = pytest.mark.slow

NODE = Path(__file__).parent / "node"
VOLUMES = f"SELECT ?volume ?title {{ ?volume a <{NAMESPACE}HostVolume> ; <{NAMESPACE}title> ?title }}"
ENDLESS = (
    "SELECT (COUNT(DISTINCT ?all) AS ?n) { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i . BIND(STR(?c) = STR(?i) AS ?all) }"
)
GREEDY = "SELECT * { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i } ORDER BY ?c ?f ?i"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[httpx.Client]:
    with served_demo(tmp_path_factory.mktemp("served") / "data") as client:
        yield client


@pytest.fixture
def endpoint(server: httpx.Client) -> str:
    return f"{server.base_url}sparql"


@pytest.fixture
def volumes(server: httpx.Client) -> dict[str, str]:
    hits = server.get("/api/records", params={"kind": "host", "limit": 100}).json()["hits"]
    return {hit["iri"]: hit["title"] for hit in hits}


def wrapped(endpoint: str, query: str, form: str, method: str = "GET") -> Any:
    wrapper = SPARQLWrapper(endpoint)
    wrapper.setQuery(query)
    wrapper.setReturnFormat(form)
    wrapper.setMethod(method)
    return wrapper.queryAndConvert()


@pytest.mark.parametrize("method", ["GET", POST])
def test_sparqlwrapper_reads_solutions(endpoint: str, volumes: dict[str, str], method: str) -> None:
    rows = wrapped(endpoint, VOLUMES, JSON, method)["results"]["bindings"]
    assert {row["volume"]["value"]: row["title"]["value"] for row in rows} == volumes
    assert len(rows) == 16


@pytest.mark.parametrize("form", [XML, CSV, TSV])
def test_sparqlwrapper_reads_the_other_forms(endpoint: str, volumes: dict[str, str], form: str) -> None:
    found = wrapped(endpoint, VOLUMES, form)
    text = found.toxml() if form == XML else found.decode()
    assert all(iri in text for iri in volumes)


def test_sparqlwrapper_reads_a_graph_a_dataset_and_yes_or_no(endpoint: str, volumes: dict[str, str]) -> None:
    one = next(iter(volumes))
    graph = Graph().parse(data=wrapped(endpoint, f"DESCRIBE <{one}>", TURTLE), format="turtle")
    assert (URIRef(one), RDF.type, URIRef(f"{NAMESPACE}HostVolume")) in graph
    assert wrapped(endpoint, f"ASK {{ GRAPH <{one}> {{ ?s ?p ?o }} }}", JSON)["boolean"] is True
    wrapper = SPARQLWrapper(endpoint, defaultGraph=one)
    wrapper.setQuery(VOLUMES)
    wrapper.setReturnFormat(JSON)
    found: Any = wrapper.queryAndConvert()
    assert len(found["results"]["bindings"]) == 1


def test_sparqlwrapper_is_told_what_is_wrong(endpoint: str) -> None:
    for query in ("SELECT * {", "SELECT * { SERVICE <http://a.example/> { ?s ?p ?o } }"):
        with pytest.raises(QueryBadFormed):
            wrapped(endpoint, query, JSON)


@pytest.mark.parametrize("method", ["GET", "POST", "POST_FORM"])
def test_rdflib_takes_the_endpoint_for_a_graph(endpoint: str, volumes: dict[str, str], method: str) -> None:
    graph = Graph(SPARQLStore(endpoint, method=method))
    assert {str(row[0]): str(row[1]) for row in graph.query(VOLUMES)} == volumes  # type: ignore[index]  # rows
    found = {str(subject) for subject in graph.subjects(RDF.type, URIRef(f"{NAMESPACE}HostVolume"))}
    assert found == volumes.keys()


def through_comunica(needs: Callable[[str], Path], endpoint: str, query: str) -> Any:
    needs("node readers")
    ran = subprocess.run(
        [needs("node"), NODE / "query.mjs"],
        input=json.dumps({"endpoint": endpoint, "query": query}),
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(ran.stdout)


def test_comunica_asks_the_endpoint(
    needs: Callable[[str], Path], endpoint: str, volumes: dict[str, str]
) -> None:
    found = through_comunica(needs, endpoint, VOLUMES)
    assert {dict(row)["volume"]: dict(row)["title"] for row in found} == volumes
    one = next(iter(volumes))
    triples = through_comunica(needs, endpoint, f"CONSTRUCT WHERE {{ <{one}> ?p ?o }}")
    assert [one, str(RDF.type), f"{NAMESPACE}HostVolume"] in triples
    assert through_comunica(needs, endpoint, f"ASK {{ <{one}> ?p ?o }}") == [True]


def test_a_query_that_would_run_for_hours_is_stopped_while_others_are_answered(
    server: httpx.Client, endpoint: str, volumes: dict[str, str]
) -> None:
    ended: dict[str, float] = {}
    refused: list[str] = []

    def ask() -> None:
        with pytest.raises(EndPointInternalError) as stopped:
            wrapped(endpoint, ENDLESS, JSON)
        refused.append(str(stopped.value))
        ended["endless"] = time.monotonic()

    thread = threading.Thread(target=ask)
    thread.start()
    assert len(wrapped(endpoint, VOLUMES, JSON)["results"]["bindings"]) == len(volumes)
    page = server.get(next(iter(volumes)).removeprefix("https://guardbook.example"), follow_redirects=True)
    ended["others"] = time.monotonic()
    thread.join(timeout=300)
    assert page.status_code == 200
    assert ended["others"] < ended["endless"]
    assert server.get("/sparql", params={"query": ENDLESS}).status_code == 500
    assert len(wrapped(endpoint, VOLUMES, JSON)["results"]["bindings"]) == len(volumes)
    assert refused


def test_a_query_that_takes_all_memory_ends_alone(server: httpx.Client, endpoint: str) -> None:
    stopped = server.post("/sparql", data={"query": GREEDY})
    assert (stopped.status_code, "300 MB" in stopped.json()["detail"]) == (500, True)
    assert wrapped(endpoint, "ASK {}", JSON)["boolean"] is True


def test_many_who_ask_at_once_are_answered_or_told_to_come_back(server: httpx.Client) -> None:
    replies: list[httpx.Response] = []
    ask = [
        threading.Thread(target=lambda: replies.append(server.get("/sparql", params={"query": VOLUMES})))
        for _ in range(30)
    ]
    for thread in ask:
        thread.start()
    for thread in ask:
        thread.join()
    assert {reply.status_code for reply in replies} <= {200, 503}
    assert sum(reply.status_code == 200 for reply in replies) >= 2
    assert all(reply.headers.get("Retry-After") for reply in replies if reply.status_code == 503)


def test_rows_past_the_limit_are_left_off_and_said_to_be(server: httpx.Client) -> None:
    reply = server.get("/sparql", params={"query": "SELECT * { ?s ?p ?o }", "format": "csv"})
    assert (len(reply.text.splitlines()), reply.headers["Guardbook-Cut-At"]) == (501, "500")


def test_nobody_is_asked_in_our_name(server: httpx.Client) -> None:
    came: list[str] = []

    class Listener(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            came.append(self.path)

        do_POST = do_GET  # noqa: N815  # the server calls it so

    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Listener) as other:
        threading.Thread(target=other.serve_forever, daemon=True).start()
        there = f"http://127.0.0.1:{other.server_port}/"
        for template in (
            "SELECT * {{ SERVICE <{0}> {{ ?s ?p ?o }} }}",
            "SELECT * FROM <{0}> {{ ?s ?p ?o }}",
            "SELECT * FROM NAMED <{0}> {{ GRAPH ?g {{ ?s ?p ?o }} }}",
            "LOAD <{0}>",
            "DESCRIBE <{0}>",
        ):
            query = template.format(there)
            assert server.get("/sparql", params={"query": query}).status_code in {200, 400}
        other.shutdown()
    assert came == []
