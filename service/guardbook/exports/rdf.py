"""The RDF formats, written by pyoxigraph one record at a time.

Formats without named graphs hold the bare triples of all records; TriG and N-Quads keep one graph a record.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, islice
from typing import BinaryIO

import pyoxigraph as ox

from guardbook import settings
from guardbook.records.base import Record, natural_order
from guardbook.records.mapping import RDF_TYPE, to_quads
from guardbook.records.terms import all_concepts
from guardbook.records.values import EDTF, XSD

_FEW = 100


def prefixes() -> dict[str, str]:
    """Give the prefixes that make our Turtle short: one for the namespace and one for each list of terms."""
    lists = {f"t-{name}": f"{settings.TERMS}{name}/" for name in all_concepts()}
    return {"gb": settings.NAMESPACE, "xsd": XSD, "edtf": EDTF.removesuffix("EDTF"), **lists}


def _readable(record: Record) -> list[ox.Quad]:
    """Give the triples in the order a person reads them: the record, then its parts as they are numbered."""
    return sorted(to_quads(record), key=_reading_order)


def _reading_order(quad: ox.Quad) -> tuple[object, ...]:
    return (natural_order(str(quad.subject)[1:-1]), quad.predicate != RDF_TYPE)


def _needed(records: Iterable[Record]) -> tuple[dict[str, str], Iterable[Record]]:
    """Give the prefixes to write and the records: where these are few, only the prefixes they use."""
    ahead = iter(records)
    first = list(islice(ahead, _FEW + 1))
    if len(first) > _FEW:
        return prefixes(), chain(first, ahead)
    text = "".join(str(quad) for record in first for quad in to_quads(record))
    return {name: iri for name, iri in prefixes().items() if iri in text}, first


def _quads(records: Iterable[Record]) -> Iterator[ox.Quad]:
    for record in records:
        yield from _readable(record)


def _triples(records: Iterable[Record]) -> Iterator[ox.Triple]:
    return (quad.triple for quad in _quads(records))


def write_turtle(records: Iterable[Record], output: BinaryIO) -> None:
    """Write Turtle."""
    short, records = _needed(records)
    ox.serialize(_triples(records), output, ox.RdfFormat.TURTLE, prefixes=short)


def write_trig(records: Iterable[Record], output: BinaryIO) -> None:
    """Write TriG."""
    short, records = _needed(records)
    ox.serialize(_quads(records), output, ox.RdfFormat.TRIG, prefixes=short)


def write_n_quads(records: Iterable[Record], output: BinaryIO) -> None:
    """Write N-Quads, each record in its canonical order."""
    ox.serialize((quad for record in records for quad in to_quads(record)), output, ox.RdfFormat.N_QUADS)


def write_n_triples(records: Iterable[Record], output: BinaryIO) -> None:
    """Write N-Triples."""
    ox.serialize(_triples(records), output, ox.RdfFormat.N_TRIPLES)


def write_rdf_xml(records: Iterable[Record], output: BinaryIO) -> None:
    """Write RDF/XML."""
    ox.serialize(_triples(records), output, ox.RdfFormat.RDF_XML, prefixes={"gb": settings.NAMESPACE})
