"""The query endpoint over HTTP, by the SPARQL 1.1 Protocol (section 2.1).

The cases of a request that must be refused are those of the W3C's protocol tests, from memory.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import httpx
import pytest
from lxml import etree
from rdflib import Graph, URIRef
from starlette.types import ASGIApp

from guardbook.catalogue.sparql.desk import Desk
from guardbook.settings import NAMESPACE
from tests.api.client import Client
from tests.api.shelf import BOOK, SLIP, STRIP

ALL = f"SELECT ?piece WHERE {{ ?piece a <{NAMESPACE}Fragment> }} ORDER BY ?piece"
DIRECT, FORM = "application/sparql-query", "application/x-www-form-urlencoded"
DIRECTLY = {"Content-Type": DIRECT}
BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"


def pieces(reply: httpx.Response) -> list[str]:
    assert reply.status_code == 200, reply.text
    return [row["piece"]["value"] for row in reply.json()["results"]["bindings"]]


def by_address(client: Client, **words: object) -> httpx.Response:
    return client.get("/sparql", params={"query": ALL, **words})


def as_form(client: Client, **words: object) -> httpx.Response:
    return client.request("POST", "/sparql", data={"query": ALL, **words})


def directly(client: Client, **words: object) -> httpx.Response:
    return client.request("POST", "/sparql", content=ALL, headers={"Content-Type": DIRECT}, params=words)


every_way = pytest.mark.parametrize("ask", [by_address, as_form, directly])
Way = Callable[..., httpx.Response]


@every_way
def test_a_query_is_asked_in_three_ways_and_each_sees_what_it_may(
    here: Client, away: Client, ask: Way
) -> None:
    assert pieces(ask(here)) == sorted([STRIP.id, SLIP.id])
    assert pieces(ask(away)) == [STRIP.id]


@every_way
def test_the_dataset_is_named_beside_the_query(here: Client, ask: Way) -> None:
    one = {"default-graph-uri": STRIP.id}
    both = {"default-graph-uri": [STRIP.id, SLIP.id]}
    named = {"named-graph-uri": STRIP.id}
    assert pieces(ask(here, **one)) == [STRIP.id]
    assert pieces(ask(here, **both)) == sorted([STRIP.id, SLIP.id])
    assert pieces(ask(here, **named)) == []
    assert ask(here, **{"default-graph-uri": "no address"}).status_code == 400


@pytest.mark.parametrize(
    ("accept", "media_type"),
    [
        (None, "application/sparql-results+json"),
        ("*/*", "application/sparql-results+json"),
        ("application/sparql-results+xml", "application/sparql-results+xml"),
        ("text/csv", "text/csv; charset=utf-8"),
        ("text/tab-separated-values;q=0.9, text/csv;q=0.1", "text/tab-separated-values; charset=utf-8"),
        ("application/json", "application/sparql-results+json"),
        ("text/turtle, application/sparql-results+xml;q=0.2", "application/sparql-results+xml"),
    ],
)
def test_the_form_of_solutions_is_the_one_liked_best(
    here: Client, accept: str | None, media_type: str
) -> None:
    reply = here.get("/sparql", params={"query": ALL}, headers={"Accept": accept} if accept else {})
    assert (reply.status_code, reply.headers["content-type"]) == (200, media_type)
    assert "Accept" in reply.headers["vary"]
    assert STRIP.id in reply.text


@pytest.mark.parametrize(
    ("accept", "media_type", "form"),
    [
        ("*/*", "text/turtle", "turtle"),
        ("application/rdf+xml", "application/rdf+xml", "xml"),
        ("application/n-triples", "application/n-triples", "nt"),
        ("application/sparql-results+json, text/turtle;q=0.5", "text/turtle", "turtle"),
    ],
)
@pytest.mark.parametrize("text", ["DESCRIBE <{0}>", "CONSTRUCT WHERE {{ <{0}> ?p ?o }}"])
def test_the_form_of_a_graph_is_the_one_liked_best(
    here: Client, text: str, accept: str, media_type: str, form: str
) -> None:
    reply = here.get("/sparql", params={"query": text.format(BOOK.id)}, headers={"Accept": accept})
    assert reply.headers["content-type"].partition(";")[0] == media_type
    assert URIRef(BOOK.id) in set(Graph().parse(data=reply.text, format=form).subjects())


def test_a_form_can_be_named_where_no_header_can_be_sent(here: Client) -> None:
    reply = here.get("/sparql", params={"query": ALL, "format": "csv"}, headers={"Accept": BROWSER})
    assert [row for (row,) in csv.reader(io.StringIO(reply.text))] == ["piece", *sorted([STRIP.id, SLIP.id])]
    yes = here.get("/sparql", params={"query": "ASK {}", "format": "xml"}).content
    assert etree.fromstring(yes)[1].text == "true"
    for names in (["tsv", "text/tab-separated-values"], ["turtle", "tsv"]):
        reply = here.get("/sparql", params={"query": ALL, "format": names})
        assert reply.headers["content-type"].startswith("text/tab-separated-values")
    unknown = here.get("/sparql", params={"query": ALL, "format": "pdf"}, headers={"Accept": "text/csv"})
    assert unknown.headers["content-type"].startswith("text/csv")


@pytest.mark.parametrize(
    ("status", "method", "words"),
    [
        (405, "PUT", {"params": {"query": "ASK {}"}}),
        (405, "DELETE", {"params": {"query": "ASK {}"}}),
        (400, "GET", {"params": {"query": ["ASK {}", "SELECT * {}"]}}),
        (400, "POST", {"data": {"query": ["ASK {}", "SELECT * {}"]}}),
        (400, "POST", {"content": b"ASK{}", "headers": DIRECTLY, "params": {"query": "ASK{}"}}),
        (415, "POST", {"content": b"ASK {}", "headers": {"Content-Type": "text/plain"}}),
        (415, "POST", {"content": b"query=ASK%20%7B%7D", "headers": {"Content-Type": ""}}),
        (415, "POST", {"content": b"CLEAR ALL", "headers": {"Content-Type": "application/sparql-update"}}),
        (400, "POST", {"content": b"", "headers": {"Content-Type": FORM}}),
        (400, "POST", {"content": "ASK {} # à".encode("utf-16"), "headers": {"Content-Type": DIRECT}}),
        (400, "POST", {"content": b"query=%FF", "headers": {"Content-Type": FORM}}),
        (400, "POST", {"content": b"a=1&" * 2000, "headers": {"Content-Type": FORM}}),
        (400, "POST", {"data": {"update": "CLEAR ALL"}}),
        (400, "GET", {"params": {"update": "CLEAR ALL"}}),
        (400, "GET", {"params": {"query": "CLEAR ALL"}}),
        (400, "GET", {"params": {"query": "SELECT * {"}}),
        (400, "GET", {"params": {"query": "SELECT * { SERVICE <http://a.example/> { ?s ?p ?o } }"}}),
        (400, "GET", {"params": {"query": "LOAD <http://a.example/>"}}),
        (400, "GET", {"params": {"query": ""}}),
        (406, "GET", {"params": {"query": "ASK {}"}, "headers": {"Accept": "image/png"}}),
        (406, "GET", {"headers": {"Accept": "image/png"}}),
        (413, "POST", {"data": {"query": "ASK {}" + " " * 200_000}}),
    ],
)  # fmt: skip
def test_what_is_no_question_is_refused_with_a_reason(
    here: Client, status: int, method: str, words: dict[str, object]
) -> None:
    reply = here.request(method, "/sparql", **words)
    assert reply.status_code == status, reply.text
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.json()["detail"]


def test_a_slip_in_a_query_is_told_with_its_place(here: Client) -> None:
    problem = here.get("/sparql", params={"query": "SELECT ?x\nWHERE { ?x ?y }"}).json()
    assert (problem["line"], problem["column"]) == (2, 16)
    assert problem["faults"][0]["where"] == "line 2, column 16"


def test_rows_that_are_left_off_are_told_of_in_a_header(
    here: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "Guardbook-Cut-At" not in by_address(here).headers
    asked = Desk.answer

    def cut(desk: Desk, question: object, folder: Path) -> object:
        object.__setattr__(desk._limits, "rows", 1)
        return asked(desk, question, folder)  # type: ignore[arg-type]  # passed on as it came

    monkeypatch.setattr(Desk, "answer", cut)
    reply = by_address(here)
    assert (len(pieces(reply)), reply.headers["Guardbook-Cut-At"]) == (1, "1")
    assert "Guardbook-Cut-At" in reply.headers["Access-Control-Expose-Headers"]


def test_a_page_of_another_site_may_ask_but_sees_what_is_public(app: ASGIApp) -> None:
    other = Client(app, headers={"Origin": "https://other.example", "Sec-Fetch-Site": "cross-site"})
    wanted = {"Access-Control-Request-Method": "POST", "Access-Control-Request-Headers": "content-type"}
    before = other.request("OPTIONS", "/sparql", headers=wanted)
    assert before.status_code == 204
    assert "content-type" in before.headers["Access-Control-Allow-Headers"].lower()
    assert "POST" in before.headers["Access-Control-Allow-Methods"]
    for reply in (before, directly(other), by_address(other)):
        assert reply.headers["Access-Control-Allow-Origin"] == "*"
    assert pieces(directly(other)) == [STRIP.id]


def test_the_endpoint_describes_itself_to_programs(here: Client) -> None:
    described = Graph().parse(data=here.get("/sparql").text, format="turtle")
    service = next(
        described.subjects(predicate=URIRef("http://www.w3.org/ns/sparql-service-description#endpoint"))
    )
    formats = set(
        described.objects(service, URIRef("http://www.w3.org/ns/sparql-service-description#resultFormat"))
    )
    assert URIRef("http://www.w3.org/ns/formats/SPARQL_Results_JSON") in formats
    assert (
        here.get("/sparql", headers={"Accept": "application/rdf+xml"}).headers["content-type"]
        == "application/rdf+xml"
    )


def test_a_reader_is_led_to_the_page(here: Client) -> None:
    reply = here.get("/sparql", params={"query": ALL, "as": "public"}, headers={"Accept": BROWSER})
    assert (reply.status_code, reply.headers["location"].partition("?")[0]) == (303, "/sparql.html")
    page = here.get(reply.headers["location"]).text
    assert STRIP.short in page
    assert SLIP.short not in page
