"""The RDF formats, written by pyoxigraph one record at a time.

Formats without named graphs hold the bare triples of all records; TriG and N-Quads keep one graph a record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import BinaryIO

import pyoxigraph as ox

from guardbook import settings
from guardbook.records.base import Record
from guardbook.records.mapping import to_quads
from guardbook.records.terms import all_concepts
from guardbook.records.values import EDTF, XSD


def prefixes() -> dict[str, str]:
    """Give the prefixes that make our Turtle short: one for the namespace and one for each list of terms."""
    lists = {f"t-{name}": f"{settings.TERMS}{name}/" for name in all_concepts()}
    return {"gb": settings.NAMESPACE, "xsd": XSD, "edtf": EDTF.removesuffix("EDTF"), **lists}


def _quads(records: Iterable[Record]) -> Iterator[ox.Quad]:
    for record in records:
        yield from to_quads(record)


def _triples(records: Iterable[Record]) -> Iterator[ox.Triple]:
    return (quad.triple for quad in _quads(records))


def write_turtle(records: Iterable[Record], output: BinaryIO) -> None:
    """Write Turtle."""
    ox.serialize(_triples(records), output, ox.RdfFormat.TURTLE, prefixes=prefixes())


def write_trig(records: Iterable[Record], output: BinaryIO) -> None:
    """Write TriG."""
    ox.serialize(_quads(records), output, ox.RdfFormat.TRIG, prefixes=prefixes())


def write_n_quads(records: Iterable[Record], output: BinaryIO) -> None:
    """Write N-Quads in canonical order within each record."""
    ox.serialize(_quads(records), output, ox.RdfFormat.N_QUADS)


def write_n_triples(records: Iterable[Record], output: BinaryIO) -> None:
    """Write N-Triples."""
    ox.serialize(_triples(records), output, ox.RdfFormat.N_TRIPLES)


def write_rdf_xml(records: Iterable[Record], output: BinaryIO) -> None:
    """Write RDF/XML."""
    ox.serialize(_triples(records), output, ox.RdfFormat.RDF_XML, prefixes={"gb": settings.NAMESPACE})
