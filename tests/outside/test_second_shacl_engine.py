"""A second engine, npm `shacl-engine` 1.1, comes to the same verdicts on the whole demonstration.

Source: W3C SHACL Recommendation of 20 July 2017; the engine carries and passes the suite of that
Recommendation. Compared are focus node, path and severity of every result, and the constraint component.
"""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pyoxigraph as ox
import pytest

from guardbook.actions.load_demo import demo_records
from guardbook.completeness.engine import findings
from guardbook.completeness.shape_files import STAGES, STRUCTURE, own_files
from guardbook.completeness.terms_in_rdflib import to_graph
from guardbook.records.mapping import to_quads
from tests.completeness.situations import everything, placing, position, quads, strip

NODE = Path(__file__).parent / "node"

Results = Counter[tuple[str, str, str, str]]


def by_us(triples: list[ox.Triple], part: str) -> Results:
    found = findings(to_graph(triples), part)
    return Counter((one.focus, str(one.path), one.severity, one.component) for one in found)


def by_the_other(triples: list[ox.Triple], part: str) -> Results:
    data = "".join(f"{triple} .\n" for triple in triples)
    asked = {"shapes": [str(path) for path in own_files(part)], "data": data}
    run = subprocess.run(
        ["node", "validate.mjs"],
        cwd=NODE,
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=True,
    )
    return Counter(
        (focus, path, severity, component) for focus, path, severity, component in json.loads(run.stdout)
    )


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
def test_two_engines_agree_on_the_whole_demonstration(part: str, needs: Callable[[str], Path]) -> None:
    needs("node readers")
    triples = [quad.triple for record in demo_records() for quad in to_quads(record)]
    ours = by_us(triples, part)
    assert ours == by_the_other(triples, part)
    assert ours or part == STRUCTURE, "the demonstration lacks things on purpose"


@pytest.mark.parametrize("part", [STRUCTURE, *STAGES])
def test_two_engines_agree_on_a_record_full_of_faults(part: str, needs: Callable[[str], Path]) -> None:
    needs("node readers")
    odd = placing(layerOrder=None, positions=[position(x=None, scale="9"), {"panel": 2}])
    records = everything(strip=strip(height="3000", width="0", features=None), placing=odd)
    triples = [quad.triple for quad in quads(*records)]
    triples = [*triples, *map(broken, triples)]
    assert by_us(triples, part) == by_the_other(triples, part)


def broken(triple: ox.Triple) -> ox.Triple:
    """Say the same thing once more, wrongly: a text for a term, a term for a text."""
    wrong = (
        ox.Literal("nonsense") if isinstance(triple.object, ox.NamedNode) else ox.NamedNode("urn:nonsense")
    )
    return ox.Triple(triple.subject, triple.predicate, wrong)
