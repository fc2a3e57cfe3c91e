"""Our shapes are well formed by the shapes that SHACL has for shapes.

Source: W3C SHACL Recommendation of 20 July 2017, Appendix C, "SHACL Syntax Rules as Shapes"; the file
`shacl-shacl.ttl` as it comes with PyPI `pyshacl` 0.40.
"""

from __future__ import annotations

from importlib.resources import files

import pyshacl
import pytest
from rdflib import SH, Graph

from guardbook.completeness.shape_files import STAGES, STRUCTURE, own_files

RULES = Graph().parse(
    data=(files(pyshacl) / "assets" / "shacl-shacl.ttl").read_text("utf-8"), format="turtle"
)

MALFORMED = {
    "two paths": "shape:a a sh:PropertyShape ; sh:path gb:height , gb:width .",
    "a count that is no number": "shape:a a sh:PropertyShape ; sh:path gb:height ; sh:minCount 'x' .",
    "a severity that is a text": "shape:a a sh:NodeShape ; sh:severity 'grave' .",
    "a kind of node there is not": "shape:a a sh:NodeShape ; sh:nodeKind sh:Leaf .",
}
PREFIXES = """@prefix sh: <http://www.w3.org/ns/shacl#> . @prefix gb: <https://w3id.org/guardbook/ns#> .
@prefix shape: <https://w3id.org/guardbook/shapes/> .
"""


def judged(shapes: Graph) -> list[str]:
    """What the rules say against some shapes."""
    _, report, _ = pyshacl.validate(shapes, shacl_graph=RULES)
    return [str(node) for node in report.objects(None, SH.focusNode)]


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
def test_our_shapes_keep_the_syntax_rules_of_shacl(part: str) -> None:
    shapes = Graph()
    for path in own_files(part):
        shapes.parse(path)
    assert len(shapes) > 100
    assert judged(shapes) == []


@pytest.mark.parametrize("fault", MALFORMED)
def test_the_rules_find_what_is_malformed(fault: str) -> None:
    assert judged(Graph().parse(data=PREFIXES + MALFORMED[fault], format="turtle"))
