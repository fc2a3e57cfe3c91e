"""What the schemas of answers are put together from."""

from __future__ import annotations

from typing import Any

from guardbook.api.descriptions import SCHEMAS

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
TEXT_OR_NONE: Schema = {"type": ["string", "null"]}
NUMBER: Schema = {"type": "number"}
NUMBER_OR_NONE: Schema = {"type": ["number", "null"]}
WHOLE: Schema = {"type": "integer"}
WHOLE_OR_NONE: Schema = {"type": ["integer", "null"]}
TRUTH: Schema = {"type": "boolean"}
TRUTH_OR_NONE: Schema = {"type": ["boolean", "null"]}


def fields(description: str, /, **fields: Schema) -> Schema:
    """Describe an object of which all these fields are always there."""
    return {"type": "object", "description": description, "properties": fields, "required": list(fields)}


def and_perhaps(described: Schema, /, **fields: Schema) -> Schema:
    """Add fields to an object that are there only at times."""
    return {**described, "properties": {**described["properties"], **fields}}


def named(name: str) -> Schema:
    """Refer to a schema of the description by its name."""
    return {"$ref": SCHEMAS + name}


def many(item: Schema) -> Schema:
    """Describe a list."""
    return {"type": "array", "items": item}


def or_none(item: Schema) -> Schema:
    """Let null stand where there is nothing."""
    return {"anyOf": [item, {"type": "null"}]}


def one_of(*words: str) -> Schema:
    """Describe a word out of a few."""
    return {"enum": list(words)}
