"""A report as words, as JSON and as a SHACL report: three ways to say one thing."""

from __future__ import annotations

import json
import re

import pytest
from pyshacl.entrypoints import validate
from rdflib import RDF, SH, Graph, Literal, URIRef

from guardbook.completeness.report import Report
from guardbook.completeness.shape_files import STAGES
from guardbook.completeness.stages import check
from guardbook.wording import LANGUAGES
from tests.completeness.situations import (
    PLACING,
    SEPARATION,
    STRIP,
    answered,
    everything,
    placing,
    position,
    quads,
    separation,
    strip,
)


def with_gaps() -> Report:
    records = everything(
        strip=strip(
            features=None,
            answers=answered("features", "looked-for-not-found"),
        ),
        placing=placing(layerOrder=None, stage=None, positions=[position(x=None), position(x=None)]),
    )
    return check(quads(*records), "before-lifting", [STRIP, PLACING, SEPARATION])


def test_words_begin_with_how_much_is_missing_and_how_much_of_it_for_good() -> None:
    first = with_gaps().words().splitlines()[0]
    assert first.startswith("Strip of an antiphoner (fragment/")
    assert "4 things are missing, 3 of which cannot be got later." in first


def test_words_put_what_cannot_be_got_later_first() -> None:
    text = with_gaps().words()
    gone, still = text.index("Cannot be got later"), text.index("Can still be got")
    assert gone < text.index("Order of layers") < still < text.index("Leads to stage")


def test_words_say_what_why_how_and_which_answers_count() -> None:
    text = with_gaps().words()
    found = re.search(r"Order of layers.*?\n\n", text, re.DOTALL)
    assert found
    assert "What lies over and under the piece is not said." in found[0]
    assert "Why: The order of the layers" in found[0]
    assert "How: Name what is beneath" in found[0]
    assert "Or answer: cannot be known" in found[0]


def test_what_several_positions_lack_alike_is_said_once_in_words() -> None:
    text = with_gaps().words()
    assert text.count("Where it lies across the plane is not measured.") == 1
    assert "position 1;" in text
    assert "position 2)" in text


def test_words_name_what_was_answered_and_the_cautions_for_the_work() -> None:
    text = with_gaps().words()
    answered_part = text[text.index("Answered instead") :]
    assert "looked for, not found: Looked with a loupe." in answered_part
    assert "moisture shrinks parchment" in answered_part


@pytest.mark.parametrize("language", LANGUAGES)
def test_words_name_the_fields_in_the_language_of_the_house(language: str) -> None:
    label = next(item for item in with_gaps().missing if item.field == "layerOrder").labels[language]
    assert f"  {label} (" in with_gaps().words(language)


def test_a_complete_record_is_called_so_in_one_line() -> None:
    report = check(quads(*everything()), "on-sight", [STRIP])
    assert report.words() == f"Strip of an antiphoner ({short(STRIP)}): complete for the stage 'on sight'.\n"


def short(iri: str) -> str:
    return "/".join(iri.split("/")[-2:])


def test_json_says_of_each_gap_whether_it_can_still_be_got() -> None:
    body = json.loads(json.dumps(with_gaps().as_json()))
    assert body["complete"] is False
    assert {(gap["field"], gap["later"]) for gap in body["missing"]} == {
        ("layerOrder", False),
        ("x", False),
        ("stage", True),
    }
    assert [(item["field"], item["answer"]) for item in body["answered"]] == [
        ("features", "looked-for-not-found")
    ]


@pytest.mark.parametrize("stage", STAGES)
def test_the_shacl_report_is_one_by_the_book(stage: str) -> None:
    report = check(quads(strip(), separation()), stage, [STRIP, SEPARATION])
    graph = Graph().parse(data=report.as_shacl(), format="turtle")
    (node,) = graph.subjects(RDF.type, SH.ValidationReport)
    results = list(graph.objects(node, SH.result))
    assert len(results) == len(report.missing)
    assert graph.value(node, SH.conforms) == Literal(not results)
    # every result has exactly one of each (W3C SHACL 2017, 3.6.2); severity is one of the three
    for result in results:
        for name in (SH.focusNode, SH.resultSeverity, SH.sourceConstraintComponent):
            assert len(list(graph.objects(result, name))) == 1
        assert graph.value(result, SH.resultSeverity) in {SH.Violation, SH.Warning, SH.Info}


def test_what_was_answered_is_no_result_of_the_shacl_report() -> None:
    graph = Graph().parse(data=with_gaps().as_shacl(), format="turtle")
    paths = {str(path).rpartition("#")[2] for path in graph.objects(None, SH.resultPath)}
    assert "features" not in paths
    assert "layerOrder" in paths


def test_a_path_across_records_is_written_as_shacl_paths_are() -> None:
    report = check(quads(strip()), "before-lifting", [STRIP])
    graph = Graph().parse(data=report.as_shacl(), format="turtle")
    inverse = {str(path) for path in graph.objects(None, SH.inversePath)}
    assert "https://w3id.org/guardbook/ns#depicts" in inverse


def test_the_shacl_report_satisfies_the_rules_shacl_makes_for_shapes_and_reports() -> None:
    graph = Graph().parse(data=with_gaps().as_shacl(), format="turtle")
    shapes = Graph().parse(data=REPORTS, format="turtle")
    assert len(list(graph.subjects(RDF.type, URIRef(str(SH.ValidationResult))))) == 4
    assert validate(graph, shacl_graph=shapes)[0]


# W3C SHACL Recommendation 2017, 3.6.1 and 3.6.2, written as shapes
REPORTS = """
@prefix sh: <http://www.w3.org/ns/shacl#> . @prefix xsd: <http://www.w3.org/2001/XMLSchema#> .
<urn:report> a sh:NodeShape ; sh:targetClass sh:ValidationReport ;
  sh:property [ sh:path sh:conforms ; sh:minCount 1 ; sh:maxCount 1 ; sh:datatype xsd:boolean ] ;
  sh:property [ sh:path sh:result ; sh:class sh:ValidationResult ] .
<urn:result> a sh:NodeShape ; sh:targetClass sh:ValidationResult ;
  sh:property [ sh:path sh:focusNode ; sh:minCount 1 ; sh:maxCount 1 ] ;
  sh:property [ sh:path sh:resultPath ; sh:maxCount 1 ; sh:nodeKind sh:BlankNodeOrIRI ] ;
  sh:property [ sh:path sh:resultSeverity ; sh:minCount 1 ; sh:maxCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path sh:sourceConstraintComponent ; sh:minCount 1 ; sh:maxCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path sh:resultMessage ; sh:or ( [ sh:datatype xsd:string ]
    [ sh:datatype <http://www.w3.org/1999/02/22-rdf-syntax-ns#langString> ] ) ] .
"""
