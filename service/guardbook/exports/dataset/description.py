"""The dataset described in VoID and DCAT.

Sources: *Describing Linked Datasets with the VoID Vocabulary* (W3C Interest Group Note, 2011); *Data Catalog
Vocabulary (DCAT), Version 3* (W3C Recommendation, 2024). Both from memory; the tests hold
what is said to the definitions of their terms.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pyoxigraph as ox

from guardbook import settings
from guardbook.exports.dataset.facts import Facts
from guardbook.exports.dataset.triples import moment, node, number, told
from guardbook.records.values import EDTF

ABOUT = (
    "Fragments taken out of bookbindings, the volumes that held them, the places they sat in "
    "and the events that moved them."
)
_MEDIA_TYPES = "https://www.iana.org/assignments/media-types/"
_SPARQL_PROTOCOL = "http://www.w3.org/TR/sparql11-protocol/"
_CHANGE_DISCOVERY = "http://iiif.io/api/discovery/1/"
DUMPS: Mapping[str, str] = {"nq": "application/n-quads", "trig": "application/trig"}
_WORDS = (
    settings.NAMESPACE,
    settings.TERMS,
    "http://www.w3.org/2004/02/skos/core#",
    EDTF.removesuffix("EDTF"),
)


def described(facts: Facts) -> list[ox.Triple]:
    """Give the description of the dataset, its parts by class and property, its dumps and its services."""
    return [
        *_document(facts),
        *_dataset(facts),
        *_partitions(facts, "void:classPartition", "void:class", facts.classes or {}),
        *_partitions(facts, "void:propertyPartition", "void:property", facts.properties or {}),
        *(triple for ending in DUMPS for triple in _dump(facts, ending)),
        *_service(facts, "sparql", "SPARQL query endpoint", _SPARQL_PROTOCOL),
        *_service(facts, "activity/all-changes", "Feed of changes", _CHANGE_DISCOVERY),
    ]


def _document(facts: Facts) -> list[ox.Triple]:
    return told(
        f"{facts.at}dataset.ttl",
        ("void:DatasetDescription",),
        foaf_primaryTopic=node(facts.iri),
        dct_title=_english(f"Description of {settings.current().name}"),
    )


def _dataset(facts: Facts) -> list[ox.Triple]:
    here = settings.current()
    dumps = tuple(node(f"{facts.at}dump.{ending}.gz") for ending in DUMPS)
    return told(
        facts.iri,
        ("void:Dataset", "dcat:Dataset"),
        dct_title=_english(here.name),
        dct_description=_english(ABOUT),
        dct_license=node(here.licence) if here.licence else None,
        dct_modified=moment(facts.changed) if facts.changed else None,
        dct_language=node("http://id.loc.gov/vocabulary/iso639-1/en"),
        dcat_landingPage=node(facts.at),
        foaf_homepage=node(facts.at),
        dcat_distribution=tuple(node(f"{facts.iri}#dump-{ending}") for ending in DUMPS),
        void_dataDump=dumps,
        void_sparqlEndpoint=node(f"{facts.at}sparql"),
        void_uriSpace=ox.Literal(here.base),
        void_feature=tuple(node(f"formats:{name}") for name in ("Turtle", "N-Triples", "RDF_XML", "JSON-LD")),
        void_vocabulary=tuple(map(node, _WORDS)),
        void_exampleResource=tuple(map(node, facts.examples)),
        void_triples=_known(facts.triples),
        void_entities=number(facts.records),
        void_classes=_known(facts.classes and len(facts.classes)),
        void_properties=_known(facts.properties and len(facts.properties)),
        void_distinctSubjects=_known(facts.subjects),
        void_distinctObjects=_known(facts.objects),
    )


def _partitions(facts: Facts, link: str, of: str, counts: Mapping[str, int]) -> Iterator[ox.Triple]:
    counted = "void:entities" if of == "void:class" else "void:triples"
    for name, count in sorted(counts.items()):
        part = node(f"{facts.iri}#{of.partition(':')[2]}-{name.rpartition('/')[2].rpartition('#')[2]}")
        yield ox.Triple(node(facts.iri), node(link), part)
        yield ox.Triple(part, node(of), node(name))
        yield ox.Triple(part, node(counted), number(count))


def _dump(facts: Facts, ending: str) -> list[ox.Triple]:
    address = node(f"{facts.at}dump.{ending}.gz")
    here = settings.current()
    return told(
        f"{facts.iri}#dump-{ending}",
        ("dcat:Distribution",),
        dct_title=_english(f"All records as {DUMPS[ending].partition('/')[2]}, compressed"),
        dcat_accessURL=address,
        dcat_downloadURL=address,
        dcat_mediaType=node(_MEDIA_TYPES + DUMPS[ending]),
        dcat_compressFormat=node(_MEDIA_TYPES + "application/gzip"),
        dct_license=node(here.licence) if here.licence else None,
        dct_modified=moment(facts.changed) if facts.changed else None,
    )


def _service(facts: Facts, path: str, title: str, standard: str) -> list[ox.Triple]:
    return told(
        f"{facts.iri}#{path.partition('/')[0]}",
        ("dcat:DataService",),
        dct_title=_english(title),
        dcat_endpointURL=node(facts.at + path),
        dcat_servesDataset=node(facts.iri),
        dct_conformsTo=node(standard),
    )


def _known(count: int | Mapping[str, int] | None) -> ox.Literal | None:
    return number(count) if isinstance(count, int) else None


def _english(text: str) -> ox.Literal:
    return ox.Literal(text, language="en")
