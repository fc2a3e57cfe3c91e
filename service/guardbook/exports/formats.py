"""The table of formats: what each is called, its media type, and the function that writes it."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from guardbook.errors import WrongUse
from guardbook.exports import bibtex, crm, csl_json, datacite, json_ld, plain_citation, rdf, ris, table, xlsx
from guardbook.exports.paper import label
from guardbook.exports.surroundings import Writer, by_themselves
from guardbook.exports.tei.descriptions import KINDS
from guardbook.exports.tei.document import write_tei


@dataclass(frozen=True, kw_only=True)
class Format:
    """One format: `write` takes records one after the other and writes bytes, holding only one at a time.

    `kinds` are those of the records that it tells of, where it does not tell of all; a format `with_events`
    wants every piece followed by its placings and separations.
    """

    name: str
    media_type: str
    ending: str
    about: str
    write: Writer
    kinds: frozenset[str] = frozenset()
    with_events: bool = False


_ALL = (
    Format(
        name="turtle",
        media_type="text/turtle",
        ending=".ttl",
        about="RDF that a person can read",
        write=by_themselves(rdf.write_turtle),
    ),
    Format(
        name="trig",
        media_type="application/trig",
        ending=".trig",
        about="RDF, one named graph a record",
        write=by_themselves(rdf.write_trig),
    ),
    Format(
        name="nquads",
        media_type="application/n-quads",
        ending=".nq",
        about="RDF, one statement a line, with its record",
        write=by_themselves(rdf.write_n_quads),
    ),
    Format(
        name="ntriples",
        media_type="application/n-triples",
        ending=".nt",
        about="RDF, one statement a line",
        write=by_themselves(rdf.write_n_triples),
    ),
    Format(
        name="rdfxml",
        media_type="application/rdf+xml",
        ending=".rdf",
        about="RDF as XML",
        write=by_themselves(rdf.write_rdf_xml),
    ),
    Format(
        name="jsonld",
        media_type="application/ld+json",
        ending=".jsonld",
        about="JSON with its context inside",
        write=by_themselves(json_ld.write_json_ld),
    ),
    Format(
        name="csv",
        media_type="text/csv",
        ending=".csv",
        about="a table, one row a piece, that can be read back",
        write=by_themselves(table.write_csv),
        kinds=frozenset({"fragment"}),
        with_events=True,
    ),
    Format(
        name="xlsx",
        media_type="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ending=".xlsx",
        about="a workbook for people, one row a piece, in their language",
        write=xlsx.write_xlsx,
        kinds=frozenset({"fragment"}),
        with_events=True,
    ),
    Format(
        name="crm",
        media_type="text/turtle",
        ending=".crm.ttl",
        about="the same knowledge in CIDOC CRM (ISO 21127)",
        write=by_themselves(crm.write_crm),
    ),
    Format(
        name="tei",
        media_type="application/tei+xml",
        ending=".tei.xml",
        about="TEI P5: a manuscript description of each piece, volume and carrier",
        write=write_tei,
        kinds=KINDS,
    ),
    Format(
        name="citation",
        media_type="text/plain",
        ending=".txt",
        about="a citation in plain words, with address, revision and day",
        write=plain_citation.write_plain,
    ),
    Format(
        name="csl",
        media_type="application/vnd.citationstyles.csl+json",
        ending=".csl.json",
        about="citations for reference managers and citation processors",
        write=csl_json.write_csl_json,
    ),
    Format(
        name="bibtex",
        media_type="application/x-bibtex",
        ending=".bib",
        about="citations for LaTeX",
        write=bibtex.write_bibtex,
    ),
    Format(
        name="ris",
        media_type="application/x-research-info-systems",
        ending=".ris",
        about="citations for reference managers",
        write=ris.write_ris,
    ),
    Format(
        name="datacite",
        media_type="application/vnd.datacite.datacite+json",
        ending=".datacite.json",
        about="metadata to register a DOI with, one record a line",
        write=datacite.write_datacite,
    ),
    Format(
        name="labels",
        media_type="application/pdf",
        ending=".labels.pdf",
        about="labels of pieces and volumes, on sheets of A4 to print",
        write=label.write_labels,
        kinds=label.KINDS,
    ),
)
FORMATS: MappingProxyType[str, Format] = MappingProxyType({found.name: found for found in _ALL})


def format_named(name: str) -> Format:
    """Give a format by its name. Raises WrongUse naming those there are."""
    if name not in FORMATS:
        raise WrongUse(message=f"There is no format {name!r}. The formats are: {', '.join(FORMATS)}.")
    return FORMATS[name]
