"""The JSON-LD context, written from the models' own annotations.

With it any JSON-LD 1.1 processor reads our JSON documents as the triples we store. Trade terms are plain
slugs in JSON; each term field has a scoped context that turns a slug into the concept's IRI.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from guardbook import settings
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.terms import of_scheme
from guardbook.records.values import XSD, Datatype, PropertyMark, Scheme


@lru_cache(maxsize=1)
def context() -> dict[str, Any]:
    """Give the value of `@context` for every document of this catalogue."""
    fields = {field.json_name: field for model in all_models() for field in fields_of(model)}
    classes = {model.__name__: settings.NAMESPACE + model.__name__ for model in all_models()}
    properties = {name: _definition(field, frozenset(fields)) for name, field in sorted(fields.items())}
    return {"@version": 1.1, "id": "@id", "type": "@type", **classes, **properties}


def _definition(field: FieldPath, names: frozenset[str]) -> dict[str, Any]:
    definition: dict[str, Any] = {"@id": field.predicate}
    match field.marker:
        case Datatype(iri) if iri != XSD + "string":
            definition["@type"] = iri
        case Scheme(name):
            vocabulary = f"{settings.TERMS}{name}/"
            # A slug that is also the name of a field would be read as that field, so it is spelled out.
            clashing = {slug: vocabulary + slug for slug in of_scheme(name) if slug in names}
            definition |= {"@type": "@vocab", "@context": {"@vocab": vocabulary, **clashing}}
        case PropertyMark():
            definition |= {"@type": "@vocab", "@context": {"@vocab": settings.NAMESPACE}}
        case Datatype():
            pass
        case _:
            definition["@type"] = "@id"
    if field.many:
        definition["@container"] = "@set"
    return definition
