"""The process that answers one question and ends: `python -m guardbook.catalogue.sparql.child`.

It reads what to do as one JSON object, writes the answer to its standard output, and last a line of JSON
on its error output that says how it went. What it loads beside this is small, so that it starts at once.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Any, BinaryIO, TypeVar

import pyoxigraph as ox

from guardbook.catalogue.sparql import walls
from guardbook.catalogue.sparql.solutions import WRITERS, Row

_RESULTS = {
    "json": ox.QueryResultsFormat.JSON,
    "xml": ox.QueryResultsFormat.XML,
    "csv": ox.QueryResultsFormat.CSV,
    "tsv": ox.QueryResultsFormat.TSV,
}
_GRAPHS = {
    "turtle": ox.RdfFormat.TURTLE,
    "ntriples": ox.RdfFormat.N_TRIPLES,
    "nquads": ox.RdfFormat.N_QUADS,
    "trig": ox.RdfFormat.TRIG,
    "rdfxml": ox.RdfFormat.RDF_XML,
    "jsonld": ox.RdfFormat.JSON_LD,
}
Said = dict[str, Any]
_Item = TypeVar("_Item")


@dataclass
class _UpTo:
    """Lets so many through, counts them, and remembers whether there were more."""

    most: int
    given: int = 0
    cut: bool = False

    def of(self, items: Iterable[_Item]) -> Iterator[_Item]:
        """Give the items that are let through."""
        ahead = iter(items)
        for item in islice(ahead, self.most):
            self.given += 1
            yield item
        self.cut = next(ahead, None) is not None


def answer(asked: Said, output: BinaryIO) -> Said:
    """Answer a question; give the form of the answer, or what went wrong."""
    store = ox.Store.read_only(asked["folder"])
    walls.limit_memory(asked["memory_mb"], asked["most_bytes"])
    try:
        found = _ask(store, asked)
    except SyntaxError as error:
        return {"error": "syntax", "message": str(error)}
    if isinstance(found, ox.QueryTriples):
        return _write_graph(found, asked, output)
    if asked["solutions_as"] is None:
        return {"error": "form", "message": "solutions"}
    if isinstance(found, ox.QueryBoolean):
        found.serialize(output, _RESULTS[asked["solutions_as"]])
        return {"form": asked["solutions_as"], "rows": 1, "cut": False}
    return _write_solutions(found, asked, output)


def _ask(store: ox.Store, asked: Said) -> ox.QuerySolutions | ox.QueryBoolean | ox.QueryTriples:
    default, named = asked["default_graphs"], asked["named_graphs"]
    words: Said = {"use_default_graph_as_union": not asked["has_dataset"]}
    if default or named:
        # a dataset that is named is that and nothing else (SPARQL 1.1 Protocol, section 2.1.4)
        words = {
            "default_graph": [ox.NamedNode(iri) for iri in default],
            "named_graphs": [ox.NamedNode(iri) for iri in named],
        }
    return store.query(asked["text"], base_iri=asked["base"], **words)


def _write_solutions(found: ox.QuerySolutions, asked: Said, output: BinaryIO) -> Said:
    names = [variable.value for variable in found.variables]
    rows: Iterator[Row] = ([solution[name] for name in names] for solution in found)
    limit = _UpTo(asked["rows"])
    WRITERS[asked["solutions_as"]](names, limit.of(rows), output)
    return {"form": asked["solutions_as"], "rows": limit.given, "cut": limit.cut}


def _write_graph(found: ox.QueryTriples, asked: Said, output: BinaryIO) -> Said:
    if asked["graph_as"] is None:
        return {"error": "form", "message": "a graph"}
    limit = _UpTo(asked["rows"])
    ox.serialize(limit.of(found), output, _GRAPHS[asked["graph_as"]], prefixes=asked["prefixes"])
    return {"form": asked["graph_as"], "rows": limit.given, "cut": limit.cut}


def main() -> None:
    """Answer the question on standard input."""
    asked = json.load(sys.stdin)
    walls.limit_time(asked["seconds"])
    walls.refuse_network()
    try:
        said = answer(asked, sys.stdout.buffer)
        sys.stdout.flush()
    except MemoryError:
        said = {"error": "memory"}
    except (OSError, RuntimeError, ValueError) as error:
        said = {"error": "failed", "message": str(error)}
    sys.stderr.write(f"\n{json.dumps(said)}\n")
    sys.stderr.flush()
    # at once: what could not be written is not to be tried again
    os._exit(0)


if __name__ == "__main__":
    main()
