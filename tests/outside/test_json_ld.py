"""Our JSON-LD, Turtle and RDF/XML read by readers we did not write with: the same triples from all.

Sources: JSON-LD 1.1 (W3C 2020) through PyLD and npm `jsonld`; Turtle, TriG and RDF/XML through rdflib and
pyoxigraph; canonical form RDFC-1.0 (W3C 2024) through PyLD's URDNA2015 and pyoxigraph's own.
"""

from __future__ import annotations

import io
import json
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path

import pyoxigraph as ox
import pytest
import rdflib
from hypothesis import given, settings
from pyld import jsonld

from guardbook.exports.formats import FORMATS
from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.mapping import canonical, from_quads, to_quads
from tests.records.strategies import records

NODE = Path(__file__).parent / "node"
PYOXIGRAPH = {
    "turtle": ox.RdfFormat.TURTLE,
    "trig": ox.RdfFormat.TRIG,
    "nquads": ox.RdfFormat.N_QUADS,
    "ntriples": ox.RdfFormat.N_TRIPLES,
    "rdfxml": ox.RdfFormat.RDF_XML,
    "jsonld": ox.RdfFormat.JSON_LD,
}
RDFLIB = {"turtle": "turtle", "ntriples": "nt", "rdfxml": "xml"}


def written(record: Record, name: str) -> bytes:
    output = io.BytesIO()
    FORMATS[name].write([record], output)
    return output.getvalue()


def lines(quads: Iterable[ox.Quad]) -> list[str]:
    return sorted({str(quad.triple) for quad in quads})


def no_network(url: str, _options: object) -> object:
    raise AssertionError(f"a reader wanted {url}")


def read_by_pyld(document: bytes) -> str:
    options = {"format": "application/n-quads", "documentLoader": no_network}
    return str(jsonld.to_rdf(json.loads(document), options))


@pytest.mark.parametrize("name", sorted(PYOXIGRAPH))
@given(record=records())
@settings(max_examples=40)
def test_every_rdf_format_is_read_back_to_the_same_triples(name: str, record: Record) -> None:
    back = list(ox.parse(input=written(record, name), format=PYOXIGRAPH[name]))
    assert lines(back) == lines(to_quads(record))
    assert from_quads(back) == record


@given(record=records())
@settings(max_examples=40)
def test_json_ld_read_by_pyld_gives_the_triples_of_our_turtle(record: Record) -> None:
    quads = ox.parse(input=read_by_pyld(written(record, "jsonld")), format=ox.RdfFormat.N_QUADS)
    assert lines(quads) == lines(ox.parse(input=written(record, "turtle"), format=ox.RdfFormat.TURTLE))


@pytest.mark.parametrize("name", sorted(RDFLIB))
@given(record=records())
@settings(max_examples=25)
def test_rdflib_reads_the_same_triples(name: str, record: Record) -> None:
    ours, theirs = rdflib.Graph(), rdflib.Graph()
    ours.parse(data=canonical([ox.Quad(*quad.triple) for quad in to_quads(record)]), format="nt")
    theirs.parse(data=written(record, name), format=RDFLIB[name])
    assert set(ours) == set(theirs)


@given(record=records())
@settings(max_examples=40)
def test_our_canonical_form_is_that_of_two_other_programs(record: Record) -> None:
    ours = canonical(to_quads(record))
    dataset = ox.Dataset(to_quads(record))
    dataset.canonicalize(ox.CanonicalizationAlgorithm.UNSTABLE)
    assert sorted(ours.splitlines()) == sorted(f"{quad} ." for quad in dataset)
    pyld = jsonld.normalize(
        ours,
        {"algorithm": "URDNA2015", "inputFormat": "application/n-quads", "format": "application/n-quads"},
    )
    assert pyld == ours


def test_a_second_json_ld_program_reads_the_same(needs: Callable[[str], Path]) -> None:
    needs("node readers")
    script = (
        "import jsonld from 'jsonld'; import {readFileSync} from 'fs';"
        "const d = JSON.parse(readFileSync(0)); const documentLoader = u => { throw new Error(u) };"
        "process.stdout.write(await jsonld.toRDF(d, {format: 'application/n-quads', documentLoader}))"
    )
    document = written(_example(), "jsonld")
    command = ["node", "--input-type=module", "-e", script]
    found = subprocess.run(command, cwd=NODE, input=document, capture_output=True, check=True).stdout.decode()
    assert sorted(found.splitlines()) == sorted(read_by_pyld(document).splitlines())


def _example() -> Record:
    return from_document(
        {
            "type": "Fragment",
            "id": "fragment/7K3QM2-J",
            "title": "Strip with “leaf” and \\ and\ttab",
            "material": "parchment",
            "height": "45.50",
            "dateMade": "11XX~",
            "features": [{"featureKind": "fold", "x": "1.0"}],
            "answers": [{"asked": "watermark", "answer": "not-applicable"}],
        }
    )
