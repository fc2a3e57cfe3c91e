"""What others' software reads of an export: the titles in it, by format.

Readers: rdflib (RDF), lxml (TEI), pandas with python-calamine (tables), PyPI `iiif-prezi3`, `citeproc-py`,
`bibtexparser`, `rispy`, and the schema of PyPI `datacite`.
"""

from __future__ import annotations

import io
import json
import warnings
from collections.abc import Callable, Iterable

import pandas as pd
import rispy
from bibtexparser.entrypoint import parse_string
from bibtexparser.middlewares import LatexDecodingMiddleware
from datacite import schema45
from iiif_prezi3 import Collection, Manifest
from lxml import etree
from rdflib import Dataset, Graph, URIRef

from guardbook import settings
from tests.outside.test_citations import in_harvard_style

TITLE = URIRef(settings.NAMESPACE + "title")
CONTENT = URIRef("http://www.cidoc-crm.org/cidoc-crm/P190_has_symbolic_content")
Titles = set[str]


def _rdf(form: str) -> Callable[[bytes], Titles]:
    def read(data: bytes) -> Titles:
        with warnings.catch_warnings():
            # rdflib's own parsers use what rdflib itself will leave off
            warnings.simplefilter("ignore", DeprecationWarning)
            told = Dataset()
            told.parse(data=data, format=form)
            return {str(value) for _, predicate, value, _ in told.quads() if predicate == TITLE}

    return read


def _crm(data: bytes) -> Titles:
    return {str(value) for value in Graph().parse(data=data, format="turtle").objects(None, CONTENT)}


def _tei(data: bytes) -> Titles:
    # libxml2 holds back from very long documents unless it is told that they are meant
    parser = etree.XMLParser(huge_tree=True)
    return _texts(etree.fromstring(data, parser).iterfind(".//{*}msDesc/{*}head/{*}title"))


def _texts(elements: Iterable[etree._Element]) -> Titles:
    return {"".join(element.itertext()) for element in elements}


def _iiif(data: bytes) -> Titles:
    told = json.loads(data)
    if told["type"] == "Collection":
        listed = Collection(**told).items or []
        return {item.label["none"][0] for item in listed}
    return set(Manifest(**told).label["en"])


def _csv(data: bytes) -> Titles:
    return _column(pd.read_csv(io.BytesIO(data), dtype=str))


def _xlsx(data: bytes) -> Titles:
    return _column(pd.read_excel(io.BytesIO(data), sheet_name=0, dtype=str, engine="calamine"))


def _column(table: pd.DataFrame) -> Titles:
    return set(table["Title"].dropna())


def _plain(data: bytes) -> Titles:
    return set(data.decode().splitlines())


def _csl(data: bytes) -> Titles:
    return {*in_harvard_style(data.decode()), *(item["title"] for item in json.loads(data))}


def _bibtex(data: bytes) -> Titles:
    library = parse_string(data.decode(), append_middleware=[LatexDecodingMiddleware()])
    assert library.failed_blocks == []
    return {entry.fields_dict["title"].value for entry in library.entries}


def _ris(data: bytes) -> Titles:
    return {reference["title"] for reference in rispy.loads(data.decode())}


def _datacite(data: bytes) -> Titles:
    told = [json.loads(line) for line in data.splitlines()]
    assert [fault for one in told for fault in schema45.validator.iter_errors(one)] == []
    return {one["titles"][0]["title"] for one in told}


READERS: dict[str, Callable[[bytes], Titles]] = {
    "turtle": _rdf("turtle"),
    "trig": _rdf("trig"),
    "nquads": _rdf("nquads"),
    "ntriples": _rdf("nt"),
    "rdfxml": _rdf("xml"),
    "jsonld": _rdf("json-ld"),
    "crm": _crm,
    "tei": _tei,
    "iiif": _iiif,
    "csv": _csv,
    "xlsx": _xlsx,
    "citation": _plain,
    "csl": _csl,
    "bibtex": _bibtex,
    "ris": _ris,
    "datacite": _datacite,
}
