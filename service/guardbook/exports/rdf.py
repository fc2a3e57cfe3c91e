"""The RDF formats, written by pyoxigraph from the statements of one record at a time.

Formats without named graphs hold the bare triples of all records; TriG and N-Quads keep one graph a record.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, islice
from typing import BinaryIO

import pyoxigraph as ox

from guardbook import settings
from guardbook.exports.surroundings import ALONE, Surroundings, Writer
from guardbook.records.base import Record, natural_order
from guardbook.records.mapping import RDF_TYPE, to_quads
from guardbook.records.terms import all_concepts
from guardbook.records.values import EDTF, XSD

# the statements of each record, in canonical order
Statements = Iterable[Sequence[ox.Quad]]
_FEW = 100


def prefixes() -> dict[str, str]:
    """Give the prefixes that make our Turtle short: one for the namespace and one for each list of terms."""
    lists = {f"t-{name}": f"{settings.TERMS}{name}/" for name in all_concepts()}
    return {"gb": settings.NAMESPACE, "xsd": XSD, "edtf": EDTF.removesuffix("EDTF"), **lists}


def of_records(write: Callable[[Statements, BinaryIO], None]) -> Writer:
    """Give a writer of records that writes their statements."""

    def writer(records: Iterable[Record], output: BinaryIO, _around: Surroundings = ALONE, /) -> None:
        write((to_quads(record) for record in records), output)

    return writer


def _readable(quads: Sequence[ox.Quad]) -> list[ox.Quad]:
    """Give statements in the order a person reads them: the record, then its parts as they are numbered."""
    subjects = {quad.subject for quad in quads}
    places = {subject: natural_order(str(subject)[1:-1]) for subject in subjects}
    return sorted(quads, key=lambda quad: (places[quad.subject], quad.predicate != RDF_TYPE))


def _needed(statements: Statements) -> tuple[dict[str, str], Statements]:
    """Give the prefixes to write and the statements: of few records, only the prefixes they use."""
    ahead = iter(statements)
    first = list(islice(ahead, _FEW + 1))
    if len(first) > _FEW:
        return prefixes(), chain(first, ahead)
    text = "".join(str(quad) for quads in first for quad in quads)
    return {name: iri for name, iri in prefixes().items() if iri in text}, first


def _quads(statements: Statements) -> Iterator[ox.Quad]:
    for quads in statements:
        yield from _readable(quads)


def _triples(statements: Statements) -> Iterator[ox.Triple]:
    return (quad.triple for quad in _quads(statements))


def write_turtle(statements: Statements, output: BinaryIO) -> None:
    """Write Turtle."""
    short, statements = _needed(statements)
    ox.serialize(_triples(statements), output, ox.RdfFormat.TURTLE, prefixes=short)


def write_trig(statements: Statements, output: BinaryIO) -> None:
    """Write TriG."""
    short, statements = _needed(statements)
    ox.serialize(_quads(statements), output, ox.RdfFormat.TRIG, prefixes=short)


def write_n_quads(statements: Statements, output: BinaryIO) -> None:
    """Write N-Quads, each record in its canonical order."""
    ox.serialize(chain.from_iterable(statements), output, ox.RdfFormat.N_QUADS)


def write_n_triples(statements: Statements, output: BinaryIO) -> None:
    """Write N-Triples, each record in its canonical order."""
    triples = (quad.triple for quads in statements for quad in quads)
    ox.serialize(triples, output, ox.RdfFormat.N_TRIPLES)


def write_rdf_xml(statements: Statements, output: BinaryIO) -> None:
    """Write RDF/XML."""
    ox.serialize(_triples(statements), output, ox.RdfFormat.RDF_XML, prefixes={"gb": settings.NAMESPACE})
