"""What the API's description says of answers and bodies: which schema, which example, which errors."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from guardbook.api import examples, problems

SCHEMAS = "#/components/schemas/"
ERRORS = {
    400: "The request could not be understood.",
    403: "This is for the workshop only.",
    404: "There is no such record.",
    406: "It cannot be given in this form.",
    410: "The record was taken out; this says when and why.",
    412: "The record has changed since that revision; both versions are given.",
    413: "This is too large.",
    415: "The body is of a media type that is not taken here.",
    422: "The record cannot be kept as it stands, or must be confirmed (`sure=true`).",
    428: "Say which revision you started from.",
    503: "The catalogue is busy.",
    507: "The disk did not take it; nothing was saved.",
}
READING = (400, 403, 404, 410)
CHANGING = (400, 403, 404, 410, 412, 413, 415, 422, 428, 507)


def answers(
    schema: str,
    description: str,
    status: int = 200,
    example: Any = None,
    *,
    changes: bool = False,
    many: bool = False,
) -> dict[int | str, dict[str, Any]]:
    """Describe the good answer, by the name of its schema (`many`: a list of it), and the errors."""
    named = {"$ref": SCHEMAS + schema}
    content: dict[str, Any] = {"schema": {"type": "array", "items": named} if many else named}
    if example is not None:
        content["example"] = example
    good = {"description": description, "content": {"application/json": content}}
    return {status: good, **errors(CHANGING if changes else READING)}


def files(
    description: str, *media_types: str, status: int = 200, schema: str | None = None
) -> dict[int | str, dict[str, Any]]:
    """Describe an answer that is a file of one of these types; `schema` names that of those that are JSON."""
    content: dict[str, Any] = {media_type: _file(media_type, schema) for media_type in media_types}
    return {status: {"description": description, "content": content}, **errors((*READING, 406))}


def _file(media_type: str, schema: str | None) -> dict[str, Any]:
    if "json" in media_type:
        return {"schema": {"$ref": SCHEMAS + schema}} if schema else {}
    if media_type.startswith("text/") or media_type.endswith("+xml"):
        return {"schema": {"type": "string"}}
    return {"schema": {"type": "string", "contentMediaType": media_type}}


def errors(statuses: Sequence[int]) -> dict[int | str, dict[str, Any]]:
    """Describe errors: all of one form (RFC 9457)."""
    content = {problems.MEDIA_TYPE: {"schema": {"$ref": SCHEMAS + "Problem"}}}
    return {status: {"description": ERRORS[status], "content": content} for status in statuses}


def body(media_types: Sequence[str], schema: dict[str, Any], shown: dict[str, Any]) -> dict[str, Any]:
    """Describe the body of a request; `shown` are examples by name."""
    named = {name: {"value": value} for name, value in shown.items()}
    content = {media_type: {"schema": schema, "examples": named} for media_type in media_types}
    return {"requestBody": {"required": True, "content": content}}


A_RECORD = {"$ref": SCHEMAS + "Record"}
ONE_OR_MORE = {"anyOf": [A_RECORD, {"type": "array", "items": A_RECORD, "minItems": 1}]}
A_PATCH = {"type": "object", "description": "Fields of the record to change; null takes one away."}
SHOWN_RECORD = {"a piece": examples.STRIP}
SHOWN_RECORDS = {"a piece": examples.STRIP, "a piece and a volume": [examples.STRIP, examples.VOLUME]}
SHOWN_PATCH = {"a condition noted, a note taken away": examples.CHANGE}
