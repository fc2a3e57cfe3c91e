"""Saving one record (parse, check, commit, index) against bare `pyshacl.validate` of the same graph."""

from __future__ import annotations

import itertools
from pathlib import Path

import pyoxigraph as ox
import pyshacl
import rdflib

from guardbook import settings
from guardbook.actions.open_catalogue import opened
from guardbook.actions.save_records import save_records
from guardbook.records.documents import from_document, to_document
from guardbook.records.mapping import canonical, to_quads
from tests.benchmarks.many_pieces import piece
from tests.benchmarks.measuring import in_turn

RUNS = 60


def shapes() -> rdflib.Graph:
    """Read our structure shapes as one graph, once."""
    graph = rdflib.Graph()
    for path in sorted((settings.current().shapes / "structure").glob("*.ttl")):
        graph.parse(path)
    return graph


def test_saving_a_record_against_bare_validation(tmp_path: Path) -> None:
    numbers = itertools.count(1)
    triples = [ox.Quad(*quad.triple) for quad in to_quads(piece(0))]
    plain = rdflib.Graph().parse(data=canonical(triples), format="nt")
    graph = shapes()
    with opened(folder=tmp_path) as access:

        def save() -> None:
            new = to_document(piece(next(numbers)))
            save_records(access, [(from_document(new), None)], who="bench", what_for="measured")

        in_turn(
            "saving one record against pyshacl.validate of the same graph",
            save,
            lambda: pyshacl.validate(plain, shacl_graph=graph),
            RUNS,
        )
        assert len(list(access.iris("fragment"))) == RUNS + 1
