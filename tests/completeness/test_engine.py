"""Looking only at some shapes finds all that looking at all of them would."""

from __future__ import annotations

from collections import Counter

import pyshacl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rdflib import SH, Graph, Node, URIRef

from guardbook.completeness import paths
from guardbook.completeness.engine import compiled, findings
from guardbook.completeness.paths import Path
from guardbook.completeness.shape_files import STAGES, STRUCTURE, own_files
from guardbook.completeness.terms_in_rdflib import to_graph
from guardbook.records.base import Record
from guardbook.records.mapping import to_quads
from tests.completeness.situations import everything, placing, position, quads, strip
from tests.records.strategies import records

Results = Counter[tuple[str, str, str, str]]


def by_us(graph: Graph, part: str) -> Results:
    return Counter((one.focus, str(one.path), one.severity, one.component) for one in findings(graph, part))


def by_a_bare_call(graph: Graph, part: str) -> Results:
    shapes = Graph()
    for path in own_files(part):
        shapes.parse(path)
    _, report, _ = pyshacl.validate(graph, shacl_graph=shapes)
    return Counter(one_result(report, node, shapes) for node in report.subjects(SH.focusNode))


def one_result(report: Graph, node: Node, shapes: Graph) -> tuple[str, str, str, str]:
    path = shapes.value(report.value(node, SH.sourceShape), SH.path)
    return (
        str(report.value(node, SH.focusNode)),
        str(paths.read(shapes, path) if path else None),
        str(report.value(node, SH.resultSeverity)),
        str(report.value(node, SH.sourceConstraintComponent)),
    )


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
def test_a_situation_is_judged_as_a_bare_call_judges_it(part: str) -> None:
    vague = placing(layerOrder=None, positions=[position(x=None, scale="9")])
    graph = to_graph(quads(*everything(strip=strip(height="3000", width="0"), placing=vague)))
    assert by_us(graph, part) == by_a_bare_call(graph, part)


@pytest.mark.slow
@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
@given(some=st.lists(records(), min_size=1, max_size=4))
@settings(max_examples=15)
def test_any_records_are_judged_as_a_bare_call_judges_them(part: str, some: list[Record]) -> None:
    graph = to_graph(quad for record in some for quad in to_quads(record))
    assert by_us(graph, part) == by_a_bare_call(graph, part)


def test_shapes_are_compiled_once_in_a_process() -> None:
    assert compiled(STRUCTURE) is compiled(STRUCTURE)


IRIS = st.builds(lambda name: Path("", f"https://w3id.org/guardbook/ns#{name}"), st.sampled_from("abcd"))
PATHS = st.recursive(
    IRIS,
    lambda inner: st.one_of(
        st.builds(lambda sign, one: Path(sign, parts=(one,)), st.sampled_from("^*+?"), inner),
        st.builds(
            lambda sign, some: Path(sign, parts=tuple(some)),
            st.sampled_from("/|"),
            st.lists(inner, min_size=2, max_size=3),
        ),
    ),
    max_leaves=6,
)


@given(path=PATHS)
def test_a_path_written_as_triples_is_read_back_the_same(path: Path) -> None:
    graph = Graph()
    assert paths.read(graph, paths.write(path, graph)) == path


def test_a_path_reads_as_paths_are_written_in_sparql() -> None:
    start = "https://w3id.org/guardbook/ns#"
    went = Path("/", parts=(Path("^", parts=(Path("", start + "piece"),)), Path("", start + "wentTo")))
    either = Path("|", parts=(Path("", start + "keeper"), went))
    assert str(either) == f"(<{start}keeper>|(^<{start}piece>/<{start}wentTo>))"
    assert isinstance(paths.write(either.parts[0], Graph()), URIRef)
