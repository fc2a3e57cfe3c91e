"""JSON Schemas of records and answers, made from the models and from the answers' own types.

Lists of terms, the form of references and the labels of fields are written in, so that the description is
enough to write a record by.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import models_json_schema

from guardbook import settings
from guardbook.api.descriptions import SCHEMAS
from guardbook.completeness.forms import form_of
from guardbook.records import terms
from guardbook.records.base import Model, Part, Record, camel
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.identifiers import LENGTH
from guardbook.records.kinds import KINDS
from guardbook.records.values import EDTF, Datatype, Reference, Scheme

_TEMPLATE = SCHEMAS + "{model}"
_IDENTIFIER = rf"[0-9A-HJKMNP-TV-Z]{{{LENGTH}}}-[0-9A-HJKMNP-TV-Z]"


def record_schemas() -> dict[str, Any]:
    """Give the schema of every record and part by its name, and `Record`, which is any of them."""
    models = [(model, "validation") for model in all_models()]
    _, made = models_json_schema(models, by_alias=True, ref_template=_TEMPLATE)  # type: ignore[arg-type]  # a list of pairs
    schemas: dict[str, Any] = made["$defs"]
    for model in all_models():
        _explain(model, schemas[model.__name__])
    names = [model.__name__ for model in KINDS.values()]
    mapping = {name: SCHEMAS + name for name in names}
    any_record = {
        "oneOf": [{"$ref": SCHEMAS + name} for name in names],
        "discriminator": {"propertyName": "type", "mapping": mapping},
    }
    return {**schemas, "Record": any_record}


def _explain(model: type[Model], schema: dict[str, Any]) -> None:
    """Write into a model's schema what Pydantic does not know of."""
    properties = schema["properties"]
    for field in fields_of(model):
        properties[field.json_name] = _field(model, field, properties[field.json_name])
    properties["type"] = {"const": model.__name__}
    if issubclass(model, Part):
        schema["required"] = [name for name in schema.get("required", ()) if name != "id"]
        properties["id"] = {"type": "string", "description": f"#{model.prefix}-1 and so on; may be left out."}
    if issubclass(model, Record):
        schema["required"] = [*(name for name in schema.get("required", ()) if name != "id"), "type"]
        properties["id"] = _reference((model.kind,), part=None)
        properties["@context"] = {"description": "The JSON-LD context; read over."}


def _field(model: type[Model], field: FieldPath, schema: dict[str, Any]) -> dict[str, Any]:
    form = form_of(model.__name__, field.json_name)
    explained = {"title": form.label(), "description": form.help} if form else {}
    match field.marker:
        case Scheme(name):
            value: dict[str, Any] = {"enum": sorted(terms.all_concepts().get(name, {}))}
        case Reference(kinds, part):
            value = _reference(kinds, part)
        case Datatype(iri) if iri == EDTF:
            value = {"type": "string", "format": "edtf"}
        case _:
            return {**_without_null(schema), **explained}
    return {**({"type": "array", "items": value} if field.many else value), **explained}


def _reference(kinds: tuple[str, ...], part: str | None) -> dict[str, Any]:
    start = f"({re.escape(settings.current().base)})?({'|'.join(kinds)})/"
    ending = rf"#{part}-[\w.-]+" if part else ""
    return {"type": "string", "pattern": f"^{start}{_IDENTIFIER}{ending}$"}


def _without_null(schema: dict[str, Any]) -> dict[str, Any]:
    """Say nothing of null, which stands for a field that is left out."""
    kept = {name: value for name, value in schema.items() if name not in {"default", "title"}}
    choices = [choice for choice in kept.pop("anyOf", ()) if choice != {"type": "null"}]
    if len(choices) == 1:
        return {**kept, **choices[0]}
    return {**kept, "anyOf": choices} if choices else kept


def answer_schemas(answers: Mapping[str, Any]) -> dict[str, Any]:
    """Give the schemas of answers (frozen dataclasses) by name, their fields named as in JSON."""
    found: dict[str, Any] = {}
    for name, answer in answers.items():
        schema = TypeAdapter(answer).json_schema(mode="serialization", ref_template=_TEMPLATE)
        found.update(schema.pop("$defs", {}))
        found[name] = schema
    return {name: _in_camel(schema) for name, schema in found.items()}


def _in_camel(schema: dict[str, Any]) -> dict[str, Any]:
    """Name the properties of a dataclass as `as_json` does."""
    if "properties" not in schema:
        return schema
    renamed = {camel(name): inner for name, inner in schema["properties"].items()}
    # every field is written, whether or not it has a default
    return {**schema, "properties": renamed, "required": list(renamed)}
