"""What the graph is asked, and what it is never asked."""

from pathlib import Path
from typing import Any

import pyoxigraph as ox
import pytest
from pyparsing import ParseResults
from rdflib.plugins.sparql.parser import parseQuery
from rdflib.plugins.sparql.parserutils import CompValue

from guardbook.catalogue import questions
from guardbook.catalogue.graph import OxigraphGraph
from guardbook.errors import QueryRefused

QUERIES = sorted(Path(questions.__file__).with_name("queries").glob("*.rq"))
ALL_AT_ONCE = "SELECT * FROM <http://x.example/> WHERE { ?s ?p ?o SERVICE <http://x.example/> { ?s ?p ?o } }"
REMOTE = "SERVICE <http://127.0.0.1:9/sparql> { ?s ?p ?o }"


@pytest.mark.parametrize(
    "question",
    [
        f"SELECT * WHERE {{ {REMOTE} }}",
        f"SELECT * WHERE {{ GRAPH ?g {{ ?s ?p ?o FILTER EXISTS {{ {REMOTE} }} }} }}",
        f"SELECT * WHERE {{ GRAPH ?g {{ ?s ?p ?o }} OPTIONAL {{ {{ SELECT * WHERE {{ {REMOTE} }} }} }} }}",
        f"SELECT * WHERE {{ GRAPH ?g {{ ?s ?p ?o MINUS {{ {REMOTE} }} }} }}",
        "SELECT * WHERE { GRAPH ?g { ?s ?p ?o } SERVICE SILENT ?g { ?s ?p ?o } }",
        f"SELECT * WHERE {{ GRAPH ?g {{ ?s ?p ?o }} # a comment\r {REMOTE} \n }}",
        "SELECT * WHERE { GRAPH ?g { ?s ?p ?o } \\u0053ERVICE <http://127.0.0.1:9/> { ?s ?p ?o } }",
    ],
)
def test_no_question_reaches_over_the_network(question: str) -> None:
    with pytest.raises(QueryRefused) as caught:
        OxigraphGraph(None).select(question)
    assert "SERVICE" in {fault.found for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("question", "found"),
    [
        ("SELECT * FROM <http://x.example/> WHERE { GRAPH ?g { ?s ?p ?o } }", "FROM"),
        ("SELECT * FROM NAMED <http://x.example/> WHERE { GRAPH ?g { ?s ?p ?o } }", "FROM"),
        ("SELECT * WHERE { ?s ?p ?o }", "a pattern outside GRAPH"),
        (
            "SELECT * WHERE { GRAPH ?g { ?s ?p ?o } FILTER NOT EXISTS { ?s ?p ?o } }",
            "a pattern outside GRAPH",
        ),
        ("SELECT * WHERE { GRAPH ?g { ?s ?p ?o } ?s <http://x.example/a>+ ?o }", "a pattern outside GRAPH"),
        ("DESCRIBE <http://x.example/>", "DescribeQuery"),
    ],
)
def test_the_empty_default_graph_is_not_asked(question: str, found: str) -> None:
    with pytest.raises(QueryRefused) as caught:
        questions.checked(question)
    assert found in {fault.found for fault in caught.value.faults}


@pytest.mark.parametrize(
    "update",
    [
        "LOAD <http://127.0.0.1:9/data.ttl>",
        "CLEAR ALL",
        "INSERT DATA { GRAPH <http://x.example/> { <http://x.example/> <http://x.example/> 1 } }",
        "DELETE WHERE { GRAPH ?g { ?s ?p ?o } }",
        "SELECT * WHERE { GRAPH ?g { ?s ?p ?o } } ; DROP ALL",
        "this is no question",
        "",
    ],
)
def test_a_question_changes_nothing(update: str) -> None:
    with pytest.raises(QueryRefused, match="no SPARQL query"):
        questions.checked(update)


def test_all_that_is_wrong_with_a_question_is_said_at_once() -> None:
    with pytest.raises(QueryRefused) as caught:
        questions.checked(ALL_AT_ONCE)
    assert {fault.found for fault in caught.value.faults} == {"SERVICE", "FROM", "a pattern outside GRAPH"}


@pytest.mark.parametrize(
    "question",
    [
        'SELECT ?g WHERE { GRAPH ?g { ?s ?p "SERVICE <http://x.example/> {}" } }',
        "SELECT (COUNT(*) AS ?n) WHERE { GRAPH ?g { { ?s ?p ?o } UNION { ?o ?p ?s } } }",
        "CONSTRUCT { ?s ?p ?o } WHERE { GRAPH ?g { ?s ?p ?o } }",
        "ASK { GRAPH ?g { ?s <http://x.example/a>/<http://x.example/b> ?o } }",
    ],
)
def test_what_stays_within_the_graphs_may_be_asked(question: str) -> None:
    assert questions.checked(question) == question


def test_a_graph_answers_a_select_and_says_so_of_other_questions() -> None:
    graph = OxigraphGraph(None)
    assert graph.select("SELECT ?g WHERE { GRAPH ?g { ?s ?p ?o } }") == []
    with pytest.raises(QueryRefused, match="SELECT"):
        graph.select("ASK { GRAPH ?g { ?s ?p ?o } }")


@pytest.mark.parametrize("path", QUERIES, ids=lambda path: path.stem)
def test_our_own_questions_are_of_the_quick_kind(path: Path) -> None:
    """Measured: two patterns in an OPTIONAL or MINUS, or a path in one, take minutes on a large store."""
    text = path.read_text(encoding="utf-8")
    assert questions.checked(text) == text
    assert {"OptionalGraphPattern", "MinusGraphPattern"}.isdisjoint(pattern_names(parseQuery(text)))
    assert "VALUES" in text


def pattern_names(node: Any) -> set[str]:
    if isinstance(node, CompValue):
        return {node.name}.union(*(pattern_names(value) for value in node.values()))
    if isinstance(node, (list, ParseResults)):
        return set().union(*(pattern_names(item) for item in node))
    return set()


def test_values_are_put_in_as_terms_and_never_as_text() -> None:
    node = ox.NamedNode("https://guardbook.example/fragment/7K3QM2-J")
    assert f"VALUES ?target {{ {node} {node} }}" in questions.own("refer_to", target=[node, node])
    tricky = ox.Literal('" } SERVICE <http://x.example/> { ?s ?p "')
    assert "SERVICE" not in set(pattern_names(parseQuery(questions.own("refer_to", target=[tricky]))))
    with pytest.raises(ValueError, match="IRI"):
        ox.NamedNode("http://x.example/> } SERVICE <http://x.example/")
    with pytest.raises(KeyError):
        questions.own("refer_to", nobody=[node])
