"""The table of formats: what each is called, its media type, where it is had, and what writes it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import MappingProxyType
from typing import BinaryIO

from guardbook.errors import WrongUse
from guardbook.exports import bibtex, crm, csl_json, datacite, json_ld, plain_citation, rdf, ris, table, xlsx
from guardbook.exports.iiif.addresses import MEDIA_TYPE as IIIF_TYPE
from guardbook.exports.iiif.export import KINDS as LAID_OUT
from guardbook.exports.iiif.export import write_iiif
from guardbook.exports.paper import label
from guardbook.exports.surroundings import Writer, by_themselves
from guardbook.exports.tei.descriptions import KINDS as DESCRIBED
from guardbook.exports.tei.document import write_tei
from guardbook.records.base import Record
from guardbook.wording import _, language, said_later

_EXPORTED = "/api/export?format={name}&id={short}"
_IN_WORDS = _EXPORTED + "&language={language}"
_OWN = "/{short}{ending}"
_PIECES = frozenset({"fragment"})


@dataclass(frozen=True, kw_only=True)
class Format:
    """One format: `write` takes records one after the other and writes bytes, holding only one at a time.

    RDF can be written from statements too, as they are kept, which spares making records of them.

    `label` is its proper name, `about` what it is; `address` where the form of one record is had, below the
    root. `kinds` are those of the records that it tells of, where it does not tell of all; a format
    `with_events` wants every record that is named followed by what happened to it.
    """

    name: str
    label: str
    media_type: str
    ending: str
    about: str
    write: Writer
    write_statements: Callable[[rdf.Statements, BinaryIO], None] | None = None
    address: str = _EXPORTED
    kinds: frozenset[str] = frozenset()
    with_events: bool = False

    def tells_of(self, kind: str) -> bool:
        """Say whether it tells of records of a kind."""
        return not self.kinds or kind in self.kinds

    def address_of(self, record: Record) -> str:
        """Give where this form of a record is had, below the root."""
        return self.address.format(
            name=self.name, short=record.short, ending=self.ending, language=language()
        )


_ALL = (
    Format(
        name="turtle",
        label="Turtle",
        media_type="text/turtle",
        ending=".ttl",
        about=said_later("RDF that a person can read"),
        write=rdf.of_records(rdf.write_turtle),
        write_statements=rdf.write_turtle,
        address=_OWN,
    ),
    Format(
        name="trig",
        label="TriG",
        media_type="application/trig",
        ending=".trig",
        about=said_later("RDF, one named graph a record"),
        write=rdf.of_records(rdf.write_trig),
        write_statements=rdf.write_trig,
        address=_OWN,
    ),
    Format(
        name="nquads",
        label="N-Quads",
        media_type="application/n-quads",
        ending=".nq",
        about=said_later("RDF, one statement a line, with its record"),
        write=rdf.of_records(rdf.write_n_quads),
        write_statements=rdf.write_n_quads,
        address=_OWN,
    ),
    Format(
        name="ntriples",
        label="N-Triples",
        media_type="application/n-triples",
        ending=".nt",
        about=said_later("RDF, one statement a line"),
        write=rdf.of_records(rdf.write_n_triples),
        write_statements=rdf.write_n_triples,
        address=_OWN,
    ),
    Format(
        name="rdfxml",
        label="RDF/XML",
        media_type="application/rdf+xml",
        ending=".rdf",
        about=said_later("RDF as XML"),
        write=rdf.of_records(rdf.write_rdf_xml),
        write_statements=rdf.write_rdf_xml,
        address=_OWN,
    ),
    Format(
        name="jsonld",
        label="JSON-LD",
        media_type="application/ld+json",
        ending=".jsonld",
        about=said_later("JSON with its context inside"),
        write=by_themselves(json_ld.write_json_ld),
        address=_OWN,
    ),
    Format(
        name="crm",
        label="CIDOC CRM",
        media_type="text/turtle",
        ending=".crm.ttl",
        about=said_later("the same knowledge in CIDOC CRM (ISO 21127)"),
        write=by_themselves(crm.write_crm),
        with_events=True,
    ),
    Format(
        name="tei",
        label="TEI",
        media_type="application/tei+xml",
        ending=".tei.xml",
        about=said_later("TEI P5: a manuscript description of each piece, volume and carrier"),
        write=write_tei,
        address=_IN_WORDS,
        kinds=DESCRIBED,
    ),
    Format(
        name="iiif",
        label="IIIF",
        media_type=IIIF_TYPE,
        ending=".iiif.json",
        about=said_later("for viewers of pictures: a manifest of one, or a collection of many"),
        write=write_iiif,
        address="/iiif/{short}/manifest.json",
        kinds=LAID_OUT,
    ),
    Format(
        name="csv",
        label="CSV",
        media_type="text/csv",
        ending=".csv",
        about=said_later("a table, one row a piece, that can be read back"),
        write=by_themselves(table.write_csv),
        kinds=_PIECES,
        with_events=True,
    ),
    Format(
        name="xlsx",
        label="XLSX",
        media_type="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ending=".xlsx",
        about=said_later("a workbook for people, one row a piece, in their language"),
        write=xlsx.write_xlsx,
        address=_IN_WORDS,
        kinds=_PIECES,
        with_events=True,
    ),
    Format(
        name="citation",
        label="TXT",
        media_type="text/plain",
        ending=".txt",
        about=said_later("a citation in plain words, with address, revision and day"),
        write=plain_citation.write_plain,
    ),
    Format(
        name="csl",
        label="CSL-JSON",
        media_type="application/vnd.citationstyles.csl+json",
        ending=".csl.json",
        about=said_later("citations for reference managers and citation processors"),
        write=csl_json.write_csl_json,
    ),
    Format(
        name="bibtex",
        label="BibTeX",
        media_type="application/x-bibtex",
        ending=".bib",
        about=said_later("citations for LaTeX"),
        write=bibtex.write_bibtex,
    ),
    Format(
        name="ris",
        label="RIS",
        media_type="application/x-research-info-systems",
        ending=".ris",
        about=said_later("citations for reference managers"),
        write=ris.write_ris,
    ),
    Format(
        name="datacite",
        label="DataCite",
        media_type="application/vnd.datacite.datacite+json",
        ending=".datacite.json",
        about=said_later("metadata to register a DOI with, one record a line"),
        write=datacite.write_datacite,
    ),
    Format(
        name="labels",
        label=said_later("Labels"),
        media_type="application/pdf",
        ending=".labels.pdf",
        about=said_later("labels to print on sheets of A4, each with a QR code"),
        write=label.write_labels,
        address="/{short}/label.pdf",
        kinds=label.KINDS,
    ),
)
FORMATS: MappingProxyType[str, Format] = MappingProxyType({found.name: found for found in _ALL})


def format_named(name: str) -> Format:
    """Give a format by its name. Raises WrongUse naming those there are."""
    if name not in FORMATS:
        told = _("There is no format {name}. The formats are: {names}.")
        raise WrongUse(message=told.format(name=repr(name), names=", ".join(FORMATS)))
    return FORMATS[name]


def formats_of(kind: str) -> Iterator[Format]:
    """Give the formats that tell of records of a kind."""
    return (found for found in _ALL if found.tells_of(kind))
