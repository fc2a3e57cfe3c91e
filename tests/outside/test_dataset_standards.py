"""The description of the dataset and the feed of changes, held to what their standards ask.

Sources: DCAT 3 and VoID, as shapes written from memory (`test_vocabularies.py` has their own definitions);
IIIF Change Discovery API 1.0, sections 2 (the model) and 3 (the algorithm), from memory; SHACL, by pySHACL.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pyshacl
import pytest
from rdflib import Graph

from guardbook.__main__ import application
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.exports.dataset import change_feed
from guardbook.settings import DEFAULT_BASE
from tests.api.client import HERE, Client
from tests.api.shelf import BOOK, SHELF, STRIP
from tests.catalogue.shelf import WHO, changed, save

SHAPES = """
@prefix sh: <http://www.w3.org/ns/shacl#> .
@prefix dcat: <http://www.w3.org/ns/dcat#> .
@prefix dct: <http://purl.org/dc/terms/> .
@prefix void: <http://rdfs.org/ns/void#> .
@prefix sd: <http://www.w3.org/ns/sparql-service-description#> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

[] a sh:NodeShape ; sh:targetClass dcat:Dataset ;
  sh:class void:Dataset ;
  sh:property [ sh:path dct:title ; sh:minCount 1 ; sh:datatype <http://www.w3.org/1999/02/22-rdf-syntax-ns#langString> ] ;
  sh:property [ sh:path dct:description ; sh:minCount 1 ] ;
  sh:property [ sh:path dct:modified ; sh:maxCount 1 ; sh:datatype xsd:dateTime ] ;
  sh:property [ sh:path dcat:distribution ; sh:minCount 1 ; sh:class dcat:Distribution ] ;
  sh:property [ sh:path dcat:landingPage ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path void:sparqlEndpoint ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path void:dataDump ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path void:uriSpace ; sh:minCount 1 ; sh:maxCount 1 ; sh:datatype xsd:string ] ;
  sh:property [ sh:path void:triples ; sh:minCount 1 ; sh:maxCount 1 ; sh:datatype xsd:integer ] ;
  sh:property [ sh:path void:vocabulary ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path void:exampleResource ; sh:nodeKind sh:IRI ; sh:pattern "^https://guardbook.example/" ] ;
  sh:property [ sh:path void:classPartition ; sh:minCount 1 ; sh:property
    [ sh:path void:class ; sh:minCount 1 ; sh:maxCount 1 ], [ sh:path void:entities ; sh:minCount 1 ] ] ;
  sh:property [ sh:path void:propertyPartition ; sh:minCount 1 ; sh:property
    [ sh:path void:property ; sh:minCount 1 ; sh:maxCount 1 ], [ sh:path void:triples ; sh:minCount 1 ] ] .

[] a sh:NodeShape ; sh:targetClass dcat:Distribution ;
  sh:property [ sh:path dcat:accessURL ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path dcat:downloadURL ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path dcat:mediaType ; sh:minCount 1 ; sh:pattern "^https://www.iana.org/assignments/media-types/" ] ;
  sh:property [ sh:path dcat:compressFormat ; sh:maxCount 1 ; sh:pattern "^https://www.iana.org/assignments/media-types/" ] .

[] a sh:NodeShape ; sh:targetClass dcat:DataService ;
  sh:property [ sh:path dcat:endpointURL ; sh:minCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path dcat:servesDataset ; sh:minCount 1 ; sh:class dcat:Dataset ] .

[] a sh:NodeShape ; sh:targetClass void:DatasetDescription ;
  sh:property [ sh:path <http://xmlns.com/foaf/0.1/primaryTopic> ; sh:minCount 1 ; sh:class void:Dataset ] .

[] a sh:NodeShape ; sh:targetClass sd:Service ;
  sh:property [ sh:path sd:endpoint ; sh:minCount 1 ; sh:maxCount 1 ; sh:nodeKind sh:IRI ] ;
  sh:property [ sh:path sd:supportedLanguage ; sh:hasValue sd:SPARQL11Query ] ;
  sh:property [ sh:path sd:defaultDataset ; sh:maxCount 1 ; sh:class sd:Dataset ] .
"""  # noqa: E501  # one line a shape


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    with open_catalogue(None) as opened:
        save(opened.access(), *SHELF)
        yield opened


@pytest.fixture
def client(catalogue: Catalogue) -> Client:
    views = {viewer: catalogue.access(viewer) for viewer in Viewer}
    return Client(application(views.__getitem__))


@pytest.mark.parametrize(
    ("path", "kind"), [("/dataset.ttl", "dcat#Dataset"), ("/sparql", "service-description#Service")]
)
def test_descriptions_have_what_their_standards_ask(client: Client, path: str, kind: str) -> None:
    described = Graph().parse(data=client.get(path).text, format="turtle")
    assert any(str(found).endswith(kind) for found in described.objects())
    shapes = Graph().parse(data=SHAPES, format="turtle")
    conforms, _, report = pyshacl.validate(described, shacl_graph=shapes)
    assert conforms, report
    emptied = Graph()
    for triple in described:
        if "URL" not in str(triple[1]) and "endpoint" not in str(triple[1]):
            emptied.add(triple)
    assert not pyshacl.validate(emptied, shacl_graph=shapes)[0]


def fetched(client: Client, address: str) -> dict[str, Any]:
    assert address.startswith(HERE)
    reply = client.get(address.removeprefix(HERE))
    assert reply.status_code == 200
    found: dict[str, Any] = reply.json()
    assert found["@context"] == "http://iiif.io/api/discovery/1/context.json"
    assert found["id"] == address
    return found


def followed(client: Client, since: str) -> tuple[set[str], set[str]]:
    """Follow the feed as section 3 says, from the newest page back: what to read anew, what is gone."""
    whole = fetched(client, f"{HERE}/activity/all-changes")
    assert whole["type"] == "OrderedCollection"
    seen: set[str] = set()
    changed_now: set[str] = set()
    gone: set[str] = set()
    address: str | None = whole["last"]["id"]
    while address:
        page = fetched(client, address)
        assert page["type"] == "OrderedCollectionPage"
        for item in reversed(page["orderedItems"]):
            if item["endTime"] < since:
                return changed_now, gone
            assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", item["endTime"])
            thing = item["object"]["id"]
            if thing not in seen:
                seen.add(thing)
                (gone if item["type"] == "Delete" else changed_now).add(thing)
        address = page.get("prev", {}).get("id")
    return changed_now, gone


def test_whoever_follows_the_feed_knows_what_is_there(
    client: Client, catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(change_feed, "ON_A_PAGE", 2)
    access: Access = catalogue.access()
    assert followed(client, "") == ({record.id for record in SHELF}, set())
    save(access, changed(STRIP, note="wormed"), from_revision=1)
    access.delete(BOOK.id, started_from=1, who=WHO, why="sold")
    there, gone = followed(client, "")
    assert there == set(access.iris())
    assert gone == {BOOK.id}
    assert followed(client, "9999") == (set(), set())
    assert all(iri.startswith(DEFAULT_BASE) for iri in there)
