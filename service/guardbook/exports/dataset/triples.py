"""Short ways to say triples, and the forms they are written in."""

from __future__ import annotations

from datetime import datetime
from types import MappingProxyType

import pyoxigraph as ox

from guardbook import settings
from guardbook.records.mapping import RDF_TYPE
from guardbook.records.values import XSD

PREFIXES = MappingProxyType(
    {
        "dcat": "http://www.w3.org/ns/dcat#",
        "dct": "http://purl.org/dc/terms/",
        "foaf": "http://xmlns.com/foaf/0.1/",
        "formats": "http://www.w3.org/ns/formats/",
        "gb": settings.NAMESPACE,
        "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
        "sd": "http://www.w3.org/ns/sparql-service-description#",
        "void": "http://rdfs.org/ns/void#",
        "xsd": XSD,
    }
)
FORMS = MappingProxyType(
    {
        "text/turtle": ox.RdfFormat.TURTLE,
        "application/ld+json": ox.RdfFormat.JSON_LD,
        "application/rdf+xml": ox.RdfFormat.RDF_XML,
        "application/n-triples": ox.RdfFormat.N_TRIPLES,
    }
)
Value = ox.NamedNode | ox.Literal


def node(name: str) -> ox.NamedNode:
    """Give the node of an IRI, or of a name such as `dcat:Dataset`.

    >>> node("void:Dataset").value
    'http://rdfs.org/ns/void#Dataset'
    """
    prefix, _, local = name.partition(":")
    return ox.NamedNode(PREFIXES[prefix] + local if prefix in PREFIXES else name)


def number(value: int) -> ox.Literal:
    """Give a whole number."""
    return ox.Literal(str(value), datatype=ox.NamedNode(XSD + "integer"))


def moment(when: datetime) -> ox.Literal:
    """Give a moment in time."""
    return ox.Literal(when.isoformat(timespec="seconds"), datatype=ox.NamedNode(XSD + "dateTime"))


def told(subject: str, kinds: tuple[str, ...], **values: Value | tuple[Value, ...] | None) -> list[ox.Triple]:
    """Say the kinds and values of a subject; names are written `dct_title` for `dct:title`."""
    found = [ox.Triple(node(subject), RDF_TYPE, node(kind)) for kind in kinds]
    for name, value in values.items():
        items = value if isinstance(value, tuple) else () if value is None else (value,)
        found += [ox.Triple(node(subject), node(name.replace("_", ":", 1)), item) for item in items]
    return found


def written(triples: list[ox.Triple], media_type: str) -> bytes:
    """Write triples in one of the forms."""
    form = FORMS[media_type]
    short = dict(PREFIXES) if form != ox.RdfFormat.N_TRIPLES else None
    return ox.serialize(triples, format=form, prefixes=short) or b""
