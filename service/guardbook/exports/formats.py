"""The table of formats: what each is called, its media type, and the function that writes it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from types import MappingProxyType
from typing import BinaryIO

from guardbook.errors import WrongUse
from guardbook.exports import crm, json_ld, rdf, table
from guardbook.records.base import Record


@dataclass(frozen=True, kw_only=True)
class Format:
    """One format: `write` takes records one after the other and writes bytes, holding only one at a time.

    A format `of_pieces` has a row for each piece, and wants every piece followed by its events.
    """

    name: str
    media_type: str
    ending: str
    about: str
    write: Callable[[Iterable[Record], BinaryIO], None]
    of_pieces: bool = False


_ALL = (
    Format(
        name="turtle",
        media_type="text/turtle",
        ending=".ttl",
        about="RDF that a person can read",
        write=rdf.write_turtle,
    ),
    Format(
        name="trig",
        media_type="application/trig",
        ending=".trig",
        about="RDF, one named graph a record",
        write=rdf.write_trig,
    ),
    Format(
        name="nquads",
        media_type="application/n-quads",
        ending=".nq",
        about="RDF, one statement a line, with its record",
        write=rdf.write_n_quads,
    ),
    Format(
        name="ntriples",
        media_type="application/n-triples",
        ending=".nt",
        about="RDF, one statement a line",
        write=rdf.write_n_triples,
    ),
    Format(
        name="rdfxml",
        media_type="application/rdf+xml",
        ending=".rdf",
        about="RDF as XML",
        write=rdf.write_rdf_xml,
    ),
    Format(
        name="jsonld",
        media_type="application/ld+json",
        ending=".jsonld",
        about="JSON with its context inside",
        write=json_ld.write_json_ld,
    ),
    Format(
        name="csv",
        media_type="text/csv",
        ending=".csv",
        about="a table, one row a piece, that can be read back",
        write=table.write_csv,
        of_pieces=True,
    ),
    Format(
        name="crm",
        media_type="text/turtle",
        ending=".crm.ttl",
        about="the same knowledge in CIDOC CRM (ISO 21127)",
        write=crm.write_crm,
    ),
)
FORMATS: MappingProxyType[str, Format] = MappingProxyType({found.name: found for found in _ALL})


def format_named(name: str) -> Format:
    """Give a format by its name. Raises WrongUse naming those there are."""
    if name not in FORMATS:
        raise WrongUse(message=f"There is no format {name!r}. The formats are: {', '.join(FORMATS)}.")
    return FORMATS[name]
