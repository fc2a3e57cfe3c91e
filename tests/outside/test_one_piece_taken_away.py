"""A scholar takes one piece along over HTTP, as every form that its page offers, into others' software.

Sources: TEI P5 4.3.0 (`tei_all.rng`, by lxml); CIDOC CRM 7.1.2 in RDFS (npm `@vocabulary/crm`), with rdflib
as the reader of Turtle; IIIF Presentation 3 by npm `@iiif/parser` and the Vault of `@iiif/helpers`;
citations by PyPI `citeproc-py`, `bibtexparser` and `rispy`; DataCite 4.5 by PyPI `datacite`; tables by
pandas; PDF by pikepdf; packets by PyPI `rocrate`.
"""

from __future__ import annotations

import io
import json
import re
import subprocess
import zipfile
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from pathlib import Path

import httpx
import pandas as pd
import pikepdf
import pyoxigraph as ox
import pytest
import rispy
from bibtexparser.entrypoint import parse_string
from datacite import schema45
from lxml import etree
from rdflib import Dataset, Graph
from rocrate.rocrate import ROCrate
from starlette.types import ASGIApp

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client
from tests.outside.test_citations import in_harvard_style
from tests.outside.test_crm import OUTSIDE, wrong
from tests.outside.test_iiif_readers import NODE
from tests.outside.test_tei import schema_of
from tests.outside.vocabularies import vocabulary

PIECE = "fragment/B89RYC-6"
IRI = f"https://guardbook.example/{PIECE}"


@pytest.fixture(scope="module")
def demo() -> Iterator[ASGIApp]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        yield application({viewer: catalogue.access(viewer) for viewer in Viewer}.__getitem__)


@pytest.fixture
def scholar(demo: ASGIApp) -> Client:
    """Give a scholar on another machine, who is the public."""
    return Client(demo, base_url="https://catalogue.example", address="203.0.113.7")


class Links(HTMLParser):
    """The links of a list of forms: their addresses by their names."""

    def __init__(self, page: str) -> None:
        """Read a page."""
        super().__init__()
        self.found: dict[str, tuple[str, str]] = {}
        self._within, self._href = False, ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note where a link of the list leads."""
        told = dict(attrs)
        self._within |= tag == "dl" and told.get("class") == "taken"
        self._href = f"{told.get('href')} {told.get('type')}" if self._within and tag == "a" else ""

    def handle_endtag(self, tag: str) -> None:
        """Note the end of the list."""
        self._within &= tag != "dl"

    def handle_data(self, data: str) -> None:
        """Note what a link is called; of two by one name the first is taken."""
        if self._href:
            address, _, media_type = self._href.partition(" ")
            self.found.setdefault(data, (address, media_type))
            self._href = ""


@pytest.fixture
def taken(scholar: Client) -> Callable[[str], httpx.Response]:
    """Give what the page of the piece leads to under a name."""
    links = Links(scholar.get(f"/{PIECE}.html").text).found

    def get(name: str) -> httpx.Response:
        address, media_type = links[name]
        answer = scholar.get(address)
        assert answer.status_code == 200
        assert answer.headers["content-type"].split(";")[0] == media_type.split(";")[0]
        return answer

    return get


Taken = Callable[[str], httpx.Response]


def test_the_tei_is_valid_and_tells_of_the_piece(taken: Taken, needs: Callable[[str], Path]) -> None:
    document = etree.fromstring(taken("TEI").content)
    schema = schema_of(needs("TEI schema"))
    assert schema.validate(document), schema.error_log
    assert IRI in [one.text for one in document.iterfind(".//{*}altIdentifier[@type='address']/{*}idno")]


def test_the_crm_keeps_to_domains_and_ranges(taken: Taken, needs: Callable[[str], Path]) -> None:
    turtle = taken("CIDOC CRM").content
    assert len(Graph().parse(data=turtle, format="turtle")) > 20
    triples = [ox.Triple(*quad.triple) for quad in ox.parse(turtle, format=ox.RdfFormat.TURTLE)]
    assert wrong(triples, vocabulary(needs("node readers"), "crm"), OUTSIDE) == []


def test_a_viewer_of_pictures_shows_it(taken: Taken, needs: Callable[[str], Path]) -> None:
    needs("node readers")
    manifest = taken("IIIF").json()
    done = subprocess.run(
        ["node", "manifests.mjs"],
        cwd=NODE,
        input=json.dumps([manifest]),
        capture_output=True,
        text=True,
        check=True,
    )
    (found,) = json.loads(done.stdout)
    assert found["parser"]["diagnostics"] == []
    assert len(found["vault"]["canvases"]) == len(manifest["items"])
    assert any(
        one["image"].endswith(".jpg") for canvas in found["vault"]["canvases"] for one in canvas["painted"]
    )


def test_its_citations_are_set_and_parsed(taken: Taken) -> None:
    (entry,) = in_harvard_style(taken("CSL-JSON").text)
    assert IRI in entry
    library = parse_string(taken("BibTeX").text)
    assert library.failed_blocks == []
    assert library.entries[0].fields_dict["url"].value == IRI
    assert rispy.loads(taken("RIS").text)[0]["urls"] == [IRI]
    assert list(schema45.validator.iter_errors(taken("DataCite").json())) == []
    assert IRI in taken("TXT").text


# rdflib's own parsers use what rdflib itself will leave off
@pytest.mark.filterwarnings("ignore:Dataset:DeprecationWarning")
@pytest.mark.filterwarnings("ignore:ConjunctiveGraph:DeprecationWarning")
@pytest.mark.parametrize(
    ("name", "form"),
    [
        ("Turtle", "turtle"),
        ("TriG", "trig"),
        ("N-Quads", "nquads"),
        ("N-Triples", "nt"),
        ("RDF/XML", "xml"),
        ("JSON-LD", "json-ld"),
    ],
)
def test_its_rdf_is_the_same_in_every_form(taken: Taken, scholar: Client, name: str, form: str) -> None:
    def triples(data: bytes, form: str) -> set[tuple[object, ...]]:
        told = Dataset()
        told.parse(data=data, format=form)
        return {quad[:3] for quad in told.quads()}

    found = triples(taken(name).content, form)
    assert found == triples(scholar.get(f"/{PIECE}.nt").content, "nt")
    assert found


def test_its_row_is_the_same_in_both_tables(taken: Taken) -> None:
    by_text = pd.read_csv(io.BytesIO(taken("CSV").content), dtype=str)
    by_sheet = pd.read_excel(io.BytesIO(taken("XLSX").content), sheet_name=0, engine="calamine")
    heights = [float(table["Height (mm)"][0]) for table in (by_text, by_sheet)]
    assert by_text["Identifier"][0] == by_sheet["Identifier"][0] == IRI
    assert heights[0] == heights[1] > 1


def test_its_sheet_is_a_pdf_with_tags(taken: Taken) -> None:
    with pikepdf.open(io.BytesIO(taken("Sheet for scholars").content)) as pdf:
        assert len(pdf.pages) >= 1
        assert "/StructTreeRoot" in pdf.Root


def test_its_packet_is_a_crate_of_it(taken: Taken, tmp_path: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(taken("Packet").content)) as archive:
        archive.extractall(tmp_path)  # an archive of our own
    crate = ROCrate(tmp_path / "guardbook-packet" / "data")
    assert crate.root_dataset["license"]
    assert re.search(IRI, (tmp_path / "guardbook-packet" / "data" / "records" / "records.trig").read_text())
