"""Questions in SPARQL: what each viewer may ask, in which forms, while records are saved."""

from __future__ import annotations

import csv
import io
import json
import threading
from pathlib import Path
from typing import Any

import pyoxigraph as ox
import pytest
from rdflib import Graph

from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS, Question
from guardbook.errors import Busy, NotAcceptable, QueryRefused
from guardbook.settings import NAMESPACE, TERMS
from tests.catalogue.shelf import WHO, changed, save, strip

PIECE, SECRET = strip(privateNote="in the red box"), strip("secret", visibility="workshop")
TITLES = f"SELECT ?title {{ ?piece a <{NAMESPACE}Fragment> ; <{NAMESPACE}title> ?title }} ORDER BY ?title"


def asked(access: Access, text: str, **words: Any) -> bytes:
    with access.ask(Question(text=text, **words)).file as file:
        return file.read()


def titles(access: Access) -> list[str]:
    rows = json.loads(asked(access, TITLES))["results"]["bindings"]
    return [row["title"]["value"] for row in rows]


def test_each_viewer_asks_what_it_may_see(workshop: Access, public: Access) -> None:
    save(workshop, PIECE, SECRET)
    assert (titles(workshop), titles(public)) == (["A secret", "A strip"], ["A strip"])
    note = 'ASK { GRAPH ?g { ?s ?p ?o FILTER(CONTAINS(STR(?o), "red box")) } }'
    answers = [json.loads(asked(viewer, note))["boolean"] for viewer in (workshop, public)]
    assert answers == [True, False]


def test_a_query_without_its_prefix_is_told_which_and_what_it_stands_for(workshop: Access) -> None:
    query = "SELECT ?x { ?x a gb:Fragment }"
    with pytest.raises(QueryRefused) as refused:
        asked(workshop, query)
    (fault,) = refused.value.faults
    assert fault.found == "gb:"
    mended = fault.mend[fault.mend.index("PREFIX") :] + query
    assert json.loads(asked(workshop, mended))["results"]["bindings"] == []


def test_what_is_saved_withdrawn_or_taken_out_is_seen_by_the_next_question(
    workshop: Access, public: Access
) -> None:
    save(workshop, PIECE)
    assert (titles(workshop), titles(public)) == (["A strip"], ["A strip"])
    save(workshop, changed(PIECE, title="A guard", visibility="workshop"), from_revision=1)
    assert (titles(workshop), titles(public)) == (["A guard"], [])
    workshop.delete(PIECE.id, started_from=2, who=WHO, why="a mistake")
    assert (titles(workshop), titles(public)) == ([], [])


def test_the_trade_terms_can_be_joined_with_and_the_graphs_of_our_own_are_hidden(workshop: Access) -> None:
    save(workshop, PIECE)
    label = f"""SELECT ?label {{ <{PIECE.id}> <{NAMESPACE}material> ?m .
        ?m <http://www.w3.org/2004/02/skos/core#prefLabel> ?label FILTER(LANG(?label) = "de") }}"""
    (row,) = json.loads(asked(workshop, label))["results"]["bindings"]
    assert row["label"] == {"type": "literal", "xml:lang": "de", "value": "Pergament"}
    graphs = csv.reader(
        io.StringIO(
            asked(workshop, "SELECT DISTINCT ?g { GRAPH ?g { ?s ?p ?o } }", solutions_as="csv").decode()
        )
    )
    assert {row[0] for row in graphs} == {"g", PIECE.id, TERMS, NAMESPACE.removesuffix("#")}


EVERY_KIND = """SELECT ?a ?b { VALUES (?a ?b) {
    (<http://a.example/?q=1&r=2> "a \\"b\\", c\\n<d> & \\\\ é 𐌰") (1.5 UNDEF) (true "e"@en-GB) ("" 1e6)
    (<<( <http://a.example/s> <http://a.example/p> "o" )>> "2020-01-01"^^<http://a.example/day>) } }"""


@pytest.mark.parametrize("form", SOLUTION_FORMS)
def test_solutions_are_written_as_the_engine_itself_writes_them(workshop: Access, form: str) -> None:
    ours = asked(workshop, EVERY_KIND, solutions_as=form)
    named = ox.QueryResultsFormat.from_media_type(SOLUTION_FORMS[form])
    found = ox.Store().query(EVERY_KIND)
    assert named
    assert isinstance(found, ox.QuerySolutions)
    theirs = found.serialize(format=named) or b""
    assert len(_rows(ours, named)) == 5 + (form == "csv")
    assert _rows(ours, named) == _rows(theirs, named)


def _rows(written: bytes, named: ox.QueryResultsFormat) -> list[list[Any]]:
    if named == ox.QueryResultsFormat.CSV:
        return list(csv.reader(io.StringIO(written.decode())))
    read = ox.parse_query_results(written, format=named)
    assert isinstance(read, ox.QuerySolutions)
    return [list(row) for row in read]


@pytest.mark.parametrize("form", GRAPH_FORMS)
def test_a_graph_is_given_in_every_form(workshop: Access, form: str) -> None:
    save(workshop, PIECE)
    text = f"CONSTRUCT {{ ?s ?p ?o }} WHERE {{ GRAPH <{PIECE.id}> {{ ?s ?p ?o }} }}"
    names = {"rdfxml": "xml", "ntriples": "nt", "nquads": "nquads"}
    given = asked(workshop, text, graph_as=form)
    read = (
        Graph().parse(given, format=names.get(form, form))
        if form not in {"trig", "nquads", "jsonld"}
        else None
    )
    there = {quad.triple for quad in ox.parse(given, format=ox.RdfFormat.from_media_type(GRAPH_FORMS[form]))}
    assert len(there) == len(workshop.quads(PIECE.id))
    assert read is None or len(read) == len(there)


def test_a_dataset_that_is_named_is_that_and_nothing_else(workshop: Access) -> None:
    other = strip("guard")
    save(workshop, PIECE, other)
    count = "SELECT (COUNT(*) AS ?n) { ?s a ?kind }"
    named = f"SELECT (COUNT(*) AS ?n) {{ GRAPH ?g {{ ?s a <{NAMESPACE}Fragment> }} }}"

    def number(text: str, **words: Any) -> int:
        return int(asked(workshop, text, solutions_as="csv", **words).split()[1])

    assert number(count, default_graphs=(PIECE.id,)) == 1
    assert number(count, default_graphs=(PIECE.id, other.id)) == 2
    assert number(count, named_graphs=(PIECE.id,)) == 0
    assert number(named, named_graphs=(PIECE.id,)) == 1
    assert number(named, default_graphs=(PIECE.id,)) == 0
    from_other = count.replace("{", f"FROM <{other.id}> {{")
    assert number(from_other) == 1
    assert number(from_other, default_graphs=(PIECE.id, other.id)) == 2
    assert number("SELECT (COUNT(*) AS ?n) { <> ?p ?o }") == 0


def test_a_broken_query_is_told_with_its_line_and_column(workshop: Access) -> None:
    with pytest.raises(QueryRefused) as refused:
        asked(workshop, "SELECT *\n{ ?s ?p ?o }\nORDER PER ?s")
    assert (refused.value.details["line"], refused.value.faults[0].where.partition(",")[0]) == (3, "line 3")
    assert "BY" in refused.value.faults[0].expected


def test_an_answer_that_does_not_fit_the_question_is_not_given(workshop: Access) -> None:
    with pytest.raises(NotAcceptable, match=r"text/csv"):
        asked(workshop, "ASK {}", solutions_as=None)
    with pytest.raises(NotAcceptable, match=r"text/turtle"):
        asked(workshop, "DESCRIBE <http://a.example/>", graph_as=None)


def test_questions_and_savings_go_on_beside_each_other(tmp_path: Path) -> None:
    with open_catalogue(tmp_path) as catalogue:
        access = catalogue.access()
        save(access, PIECE)
        found: list[list[str]] = []

        def ask() -> None:
            found.extend(titles(access) for _ in range(6))

        threads = [threading.Thread(target=ask) for _ in range(3)]
        for thread in threads:
            thread.start()
        for number in range(1, 15):
            save(access, changed(PIECE, note=f"looked at {number} times"), from_revision=number)
        for thread in threads:
            thread.join()
        assert found == [["A strip"]] * 18
        assert len(list((tmp_path / "asked" / "workshop").iterdir())) == 1
    assert list((tmp_path / "asked").iterdir()) == []


def test_whoever_comes_while_a_graph_is_being_made_is_sent_away(
    catalogue: Catalogue, public: Access, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("guardbook.catalogue.sparql.copies._PATIENCE_SECONDS", 0.01)
    monkeypatch.setattr("guardbook.catalogue.datasets._PATIENCE_SECONDS", 0.01)
    datasets = catalogue._datasets
    for lock in (datasets._lock, datasets._copies[Viewer.PUBLIC]._lock):
        with lock, pytest.raises(Busy, match="little while"):
            titles(public)
    assert titles(public) == []


def test_copies_that_a_killed_process_left_are_cleared_away(tmp_path: Path) -> None:
    left = tmp_path / "asked" / "public" / "7"
    left.mkdir(parents=True)
    (left / "000001.sst").write_bytes(b"left")
    with open_catalogue(tmp_path) as catalogue:
        save(catalogue.access(), PIECE)
        assert titles(catalogue.access(Viewer.PUBLIC)) == ["A strip"]
        assert not left.exists()


def test_opening_and_saving_makes_no_copy_and_no_public_graph(tmp_path: Path) -> None:
    with open_catalogue(tmp_path) as catalogue:
        save(catalogue.access(), PIECE)
        assert {"asked", "public-graph"} & {path.name for path in tmp_path.iterdir()} == set()


def test_the_public_graph_is_made_anew_where_it_is_of_another_ledger(
    tmp_path: Path,
) -> None:
    for name in ("one", "two"):
        with open_catalogue(tmp_path / name) as opened:
            save(opened.access(), strip(name))
            assert titles(opened.access(Viewer.PUBLIC)) == [f"A {name}"]
    (tmp_path / "two" / "public-graph").rename(tmp_path / "moved")
    (tmp_path / "one" / "public-graph").rename(tmp_path / "two" / "public-graph")
    with open_catalogue(tmp_path / "two") as opened:
        assert titles(opened.access(Viewer.PUBLIC)) == ["A two"]
