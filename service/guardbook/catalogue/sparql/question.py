"""A question in SPARQL as the protocol puts it, the forms an answer can have, and the answer."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import BinaryIO

# in the order in which they are given where all are liked equally
SOLUTION_FORMS = MappingProxyType(
    {
        "json": "application/sparql-results+json",
        "xml": "application/sparql-results+xml",
        "csv": "text/csv",
        "tsv": "text/tab-separated-values",
    }
)
GRAPH_FORMS = MappingProxyType(
    {
        "turtle": "text/turtle",
        "ntriples": "application/n-triples",
        "nquads": "application/n-quads",
        "trig": "application/trig",
        "rdfxml": "application/rdf+xml",
        "jsonld": "application/ld+json",
    }
)


@dataclass(frozen=True, kw_only=True)
class Question:
    """A query with its dataset (none named: everything), and the forms it may be answered in.

    `solutions_as` is for SELECT and ASK, `graph_as` for CONSTRUCT and DESCRIBE; None where none would do.
    """

    text: str
    default_graphs: tuple[str, ...] = ()
    named_graphs: tuple[str, ...] = ()
    solutions_as: str | None = "json"
    graph_as: str | None = "turtle"


@dataclass(frozen=True, kw_only=True)
class Answer:
    """An answer in a file that is ready to be read, to be closed by whoever reads it.

    `form` is one of the two tables' names; `rows` counts solutions or triples, `cut` says that there were
    more than are given.
    """

    form: str
    file: BinaryIO
    rows: int
    cut: bool

    @property
    def media_type(self) -> str:
        """Give the media type of the form."""
        return {**SOLUTION_FORMS, **GRAPH_FORMS}[self.form]
