"""What is refused of a SPARQL query before anything asks it."""

import contextlib
import time

import pytest
from rdflib.plugins.sparql.parser import parseQuery

from guardbook import settings
from guardbook.catalogue.sparql.prefixes import undeclared
from guardbook.catalogue.sparql.refusals import LONGEST_CHARACTERS, check
from guardbook.errors import QueryRefused, TooLarge

REMOTE = [
    "SELECT * { SERVICE <http://away.example/> { ?s ?p ?o } }",
    "select*{service<http://away.example/>{?s?p?o}}",
    "SELECT * { SERVICE SILENT ?where { ?s ?p ?o } }",
    "PREFIX a: <http://a.example/> SELECT * { ?s ?p 1SERVICE a:b { ?s ?p ?o } }",
    "PREFIX a: <http://a.example/> SELECT * { FILTER(1 < 2)SERVICE a:b{ ?s ?p ?o } }",
    "PREFIX : <http://a.example/> SELECT * { SERVICE:b { ?s ?p ?o } }",
    "PREFIX a: <http://a.example/> SELECT * { SERVICEa:b { ?s ?p ?o } }",
    "ASK { { SELECT * { OPTIONAL { GRAPH ?g { SERVICE ?x { ?s ?p ?o } } } } } }",
    "CONSTRUCT { ?s ?p ?o } WHERE { FILTER EXISTS { SERVICE <http://a.example/> { ?s ?p ?o } } }",
    r"SELECT * { \u0053ERVICE <http://away.example/> { ?s ?p ?o } }",
    r"SELECT * { ?s ?p '\u0027 SERVICE <http://away.example/> { ?s ?p ?o } #' }",
    "SELECT * { ?s ?p '''a''' SERVICE <http://a.example/> { ?s ?p '''b''' } }",
    "SELECT * { ?s ?p ?o # a comment ends\rSERVICE <http://away.example/> { ?s ?p ?o } }",
]
UPDATES = [
    "INSERT DATA { <a:b> <a:c> <a:d> }",
    "PREFIX select: <http://a.example/> # SELECT\nDELETE WHERE { ?s ?p ?o }",
    "LOAD <http://away.example/data>",
    "BASE <http://a.example/select> CLEAR ALL",
    "WITH <a:b> DELETE { ?s ?p ?o } WHERE { ?s ?p ?o }",
    "CREATE GRAPH <a:b>",
]
HARMLESS = [
    "SELECT * { ?s ?p 'at your SERVICE' }",
    'SELECT * { ?s ?p """a long "SERVICE" text""" }',
    "SELECT ?service { ?service a <http://a.example/SERVICE> } # SERVICE",
    "PREFIX sd: <http://www.w3.org/ns/sparql-service-description#> SELECT * { ?s a sd:Service }",
    "PREFIX insert: <http://a.example/> SELECT * { ?s insert:load ?clear . FILTER(?s<?o&&?p>?o) }",
    r"SELECT * { ?s ?p 'it\'s SERVICE' ; ?q \"a\\\" , 'SERVICE' }".replace(r"\"", '"'),
]


@pytest.mark.parametrize("query", REMOTE)
def test_a_question_to_another_place_is_refused_however_it_is_written(query: str) -> None:
    with pytest.raises(QueryRefused, match="not answered") as refused:
        check(query)
    assert "without SERVICE" in refused.value.faults[0].expected


@pytest.mark.parametrize("query", UPDATES)
def test_an_update_is_refused(query: str) -> None:
    with pytest.raises(QueryRefused) as refused:
        check(query)
    assert "an update" in refused.value.faults[0].found


@pytest.mark.parametrize("query", HARMLESS)
def test_the_word_as_text_name_or_comment_is_let_pass(query: str) -> None:
    assert parseQuery(query)
    check(query)


def test_a_prefix_that_is_not_declared_is_named_with_the_line_that_declares_it() -> None:
    query = "PREFIX a: <http://a.example/>\nSELECT * { ?x a gb:A, foaf:B ; :b a:c, 'skos:no' # dct:no\n }"
    refused = undeclared(query)
    assert refused is not None
    assert [(one.where, one.found) for one in refused.faults] == [
        ("line 2, column 17", "gb:"),
        ("line 2, column 23", "foaf:"),
        ("line 2, column 32", ":"),
    ]
    lines = (f"PREFIX gb: <{settings.NAMESPACE}>", "PREFIX foaf: <http://…>", "PREFIX : <http://…>")
    assert all(one.mend.endswith(line) for one, line in zip(refused.faults, lines, strict=True))


@pytest.mark.parametrize("query", HARMLESS)
def test_a_query_that_declares_its_prefixes_lacks_none(query: str) -> None:
    assert undeclared(query) is None


def test_a_query_that_goes_on_and_on_is_not_read() -> None:
    check("ASK {}" + " " * (LONGEST_CHARACTERS - 6))
    with pytest.raises(TooLarge):
        check("ASK {}" + " " * LONGEST_CHARACTERS)


@pytest.mark.parametrize("query", ["SELECT * {\n ?s ?p 'open }", 'SELECT * {\n ?s ?p """open"" }'])
def test_a_text_that_is_not_closed_is_told_with_its_place(query: str) -> None:
    with pytest.raises(QueryRefused) as refused:
        check(query)
    assert refused.value.details["line"] == 2
    assert query.splitlines()[1][refused.value.details["column"] - 1] in "'\""


@pytest.mark.parametrize("part", ["(", '"""', "'", "<", "\\", ":a", "#", '"\\', "?a<", "a", "SERVICE "])
def test_reading_a_query_takes_no_time_that_grows_out_of_hand(part: str) -> None:
    half, whole = (_seconds("SELECT * { " + part * (size // len(part))) for size in (80_000, 160_000))
    assert whole < max(8 * half, 2)


def _seconds(query: str) -> float:
    started = time.perf_counter()
    with contextlib.suppress(QueryRefused):
        check(query)
    return time.perf_counter() - started
