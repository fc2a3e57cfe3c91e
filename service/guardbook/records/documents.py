"""Records to JSON and back: `to_document` and `from_document`. The document is valid JSON-LD.

Decimals are written as strings ("45.50"): JSON-LD turns JSON numbers into xsd:double, which would lose
the digits that say how exactly something was measured. Numbers are accepted on reading.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from pydantic import ValidationError

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord
from guardbook.records import identifiers
from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.reports import faults_from
from guardbook.records.values import WithinRecord
from guardbook.wording import _

TYPES = {model.__name__: model for model in KINDS.values()}


def context_address() -> str:
    """Give the address of the JSON-LD context this instance serves."""
    return settings.current().base + "context.jsonld"


def to_document(record: Record, *, context: Any = None) -> dict[str, Any]:
    """Give the record as a JSON document; `context` is its `@context` (the served address if None)."""
    body = _write(record, record.id)
    return {"@context": context or context_address(), "id": record.id, "type": type(record).__name__, **body}


def _write(model: Model, record_iri: str) -> dict[str, Any]:
    body: dict[str, Any] = {}
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        if value is None or value == ():
            continue
        items = [_item(item, field.marker, record_iri) for item in (value if field.many else (value,))]
        body[field.json_name] = items if field.many else items[0]
    return body


def _item(value: Any, marker: Any, record_iri: str) -> Any:
    if isinstance(value, Part):
        return {"id": record_iri + value.id, "type": type(value).__name__, **_write(value, record_iri)}
    if isinstance(marker, WithinRecord):
        return record_iri + value
    if isinstance(value, Decimal):
        return format(value, "f")
    return value


def from_document(document: Any, where: str = "") -> Record:
    """Read one record from its JSON document.

    Parts may leave out `id` (they are named `#hole-1` and so on, in order). Raises InvalidRecord with all
    faults; `where` goes before each path, for instance `records[3]`.
    """
    if not isinstance(document, dict):
        place = where or _("the document")
        fault = Fault(where=place, found=type(document).__name__, expected=_("a JSON object"))
        raise InvalidRecord(message=_("This is not a record."), faults=(fault,))
    name = str(document["type"]) if "type" in document else _type_from_id(document.get("id"))
    model = TYPES.get(name)
    if model is None:
        path = f"{where}.type" if where else "type"
        expected = _("one of {names}").format(names=", ".join(TYPES))
        fault = Fault(where=path, found=repr(name), expected=expected)
        raise InvalidRecord(message=_("This is not a record."), faults=(fault,))
    body = {key: value for key, value in document.items() if key not in {"@context", "type"}}
    if "id" not in body:
        body["id"] = f"{model.kind}/{identifiers.new_identifier()}"
    try:
        return model.model_validate(_named(body, model))
    except ValidationError as error:
        faults = faults_from(error, where)
        message = _("{record} is not right yet.").format(record=f"{name} {body['id']}")
        raise InvalidRecord(message=message, faults=faults) from error


def _type_from_id(iri: Any) -> str:
    kind = str(iri or "").removeprefix(settings.current().base).partition("/")[0]
    return KINDS[kind].__name__ if kind in KINDS else ""


def _named(body: Any, model: type[Model]) -> Any:
    """Give every part without an id the next free `#prefix-N`, and shorten IRIs of own parts."""
    if not isinstance(body, dict):
        return body
    shaped = dict(body)
    for field in fields_of(model):
        key = field.json_name if field.json_name in shaped else field.name
        value = shaped.get(key)
        if isinstance(field.marker, WithinRecord) and isinstance(value, str):
            shaped[key] = "#" + value.rpartition("#")[2]
        elif field.part and isinstance(value, (list, tuple)):
            taken = {
                str(item["id"]).rpartition("#")[2]
                for item in value
                if isinstance(item, dict) and "id" in item
            }
            free = (f"{field.part.prefix}-{n}" for n in range(1, len(value) + len(taken) + 1))
            names = (name for name in free if name not in taken)
            shaped[key] = [_part(item, field.part, names) for item in value]
    return shaped


def _part(item: Any, model: type[Part], names: Any) -> Any:
    if not isinstance(item, dict):
        return item
    body = {key: value for key, value in item.items() if key != "type"}
    if "id" not in body:
        body["id"] = "#" + next(names)
    return _named(body, model)
