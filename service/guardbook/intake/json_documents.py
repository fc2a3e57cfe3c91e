"""Records in JSON: one document, a list of them, or `{"records": [...]}`, each digit kept as written."""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord, UnreadableFile
from guardbook.intake.drafts import Findings, WholeDraft, shown
from guardbook.records.base import Model
from guardbook.records.context import context
from guardbook.records.documents import TYPES, context_address, from_document
from guardbook.records.fields import FieldPath, fields_of
from guardbook.wording import _, either

MOST_LEVELS = 40
_LONGEST_NUMBER = 40
_OWN_KEYS = {"@context", "id", "type", "revision"}
_LISTS = ("records", "@graph")


class _Object(dict[str, Any]):
    """A JSON object that remembers which keys were written twice."""

    repeated: tuple[str, ...] = ()


def parse(data: bytes, name: str) -> Any:
    """Parse JSON, keeping every digit of its numbers.

    Raises UnreadableFile with line and column, and for what is nested too deeply to be a record.
    """
    try:
        text = data.decode(json.detect_encoding(data).replace("utf-8", "utf-8-sig"))
        found = json.loads(
            text,
            object_pairs_hook=_object,
            parse_float=_decimal,
            parse_int=_whole,
            parse_constant=str,
        )
    except json.JSONDecodeError as error:
        where = f"{name}, line {error.lineno}, column {error.colno}"
        raise _unreadable(name, where, error.msg, "JSON") from error
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        where = f"{name}, line {line}"
        found = _("the byte {byte}").format(byte=f"{data[error.start]:#04x}")
        raise _unreadable(name, where, found, _("text in UTF-8")) from error
    except RecursionError as error:
        raise _too_deep(name) from error
    if _levels_exceed(found, MOST_LEVELS):
        raise _too_deep(name)
    return found


def _unreadable(name: str, where: str, found: str, expected: str) -> UnreadableFile:
    fault = Fault(where=where, found=found, expected=expected, mend=_("Nothing was read from the file."))
    return UnreadableFile(message=_("{name} cannot be read as JSON.").format(name=name), faults=(fault,))


def _too_deep(name: str) -> UnreadableFile:
    expected = _("at most {count} levels of objects and lists within one another")
    return _unreadable(name, name, _("more levels than that"), expected.format(count=MOST_LEVELS))


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    made = _Object(pairs)
    if len(made) < len(pairs):
        keys = [key for key, _value in pairs]
        made.repeated = tuple(key for key in made if keys.count(key) > 1)
    return made


def _decimal(text: str) -> Decimal | str:
    """Give a number, or text that will be refused, where writing it out would fill the memory."""
    value = Decimal(text)
    return value if len(text) <= _LONGEST_NUMBER and abs(value.adjusted()) <= _LONGEST_NUMBER else text


def _whole(text: str) -> int | str:
    return int(text) if len(text) <= _LONGEST_NUMBER else text


def _levels_exceed(found: Any, most: int) -> bool:
    """Tell whether the values go deeper than allowed, without going deeper oneself."""
    level = [found]
    for _deeper in range(most + 1):
        level = [
            inner
            for value in level
            if isinstance(value, (dict, list))
            for inner in (value.values() if isinstance(value, dict) else value)
            if isinstance(inner, (dict, list))
        ]
        if not level:
            return False
    return True


def is_own_form(found: Any) -> bool:
    """Tell whether this is our form of JSON, not JSON-LD with a context of its own."""
    items = found if isinstance(found, list) else [found]
    return not any(
        "@id" in item
        or "@type" in item
        or item.get("@context", context_address()) not in (context_address(), context())
        for item in items
        if isinstance(item, dict)
    )


def drafts_of(found: Any, name: str, findings: Findings) -> Iterator[WholeDraft]:
    """Give the records of a parsed file in our form; what is wrong goes to the findings."""
    for where, document in _documents(found, name, findings):
        if findings.full:
            only = _("{name} was read to {where} only: mend what is wrong so far first")
            findings.note(only.format(name=name, where=where))
            return
        if not isinstance(document, dict):
            findings.fault(_at(name, where), shown(document)[:60], _("a record as a JSON object"))
            continue
        before = len(findings.faults)
        cleaned = _known_keys(document, _model(document), where, name, findings)
        revision = _revision(cleaned.pop("revision", None), _at(name, where), findings)
        try:
            record = from_document(cleaned, where)
        except InvalidRecord as error:
            findings.broken.add(settings.current().base + _short(document))
            findings.faults += [replace(fault, where=_at(name, fault.where)) for fault in error.faults]
            continue
        if len(findings.faults) > before:
            findings.broken.add(record.id)
        else:
            yield WholeDraft(record=record, where=_at(name, where), revision=revision)


def _at(name: str, where: str) -> str:
    return f"{name}, {where}" if where else name


def _documents(found: Any, name: str, findings: Findings) -> Iterator[tuple[str, Any]]:
    if (
        isinstance(found, dict)
        and "type" not in found
        and (key := next((k for k in _LISTS if k in found), None))
    ):
        for other in found.keys() - {key, "@context"}:
            expected = _("nothing beside '{key}' and '@context'").format(key=key)
            findings.fault(f"{name}, {other}", _("a key"), expected)
        found, label = found[key], key
    else:
        label = "records"
    if isinstance(found, list):
        yield from ((f"{label}[{at}]", item) for at, item in enumerate(found))
    else:
        yield "", found


def _model(document: dict[str, Any]) -> type[Model] | None:
    return TYPES.get(str(document.get("type"))) or next(
        (model for model in TYPES.values() if re.search(rf"(^|/){model.kind}/", str(document.get("id")))),
        None,
    )


def _short(document: dict[str, Any]) -> str:
    return str(document.get("id", "")).removeprefix(settings.current().base)


def _revision(value: Any, where: str, findings: Findings) -> int | None:
    if value is None or (isinstance(value, int) and not isinstance(value, bool) and value >= 1):
        return value
    expected = _("the whole number of the revision you started from")
    findings.fault(f"{where}, revision", shown(value), expected)
    return None


def _known_keys(
    document: dict[str, Any], model: type[Model] | None, where: str, name: str, findings: Findings
) -> dict[str, Any]:
    """Leave out keys that no field has, and name them with the nearest; name keys written twice."""
    for key in getattr(document, "repeated", ()):
        place, mend = _at(name, _inside(where, key)), _("Keep one of the two.")
        findings.fault(place, _("the key twice"), _("each key once"), mend)
    if model is None:
        return dict(document)
    fields = {spelling: field for field in fields_of(model) for spelling in (field.json_name, field.name)}
    kept: dict[str, Any] = {}
    for key, value in document.items():
        field = fields.get(key)
        if field is None and key not in _OWN_KEYS:
            expected = _("a field of {model}").format(model=model.__name__)
            findings.fault(_at(name, _inside(where, key)), repr(key), expected, _near(key, fields))
        elif field and field.part and isinstance(value, list):
            inside = _inside(where, key)
            kept[key] = [
                _known_keys(item, field.part, f"{inside}[{at}]", name, findings)
                if isinstance(item, dict)
                else item
                for at, item in enumerate(value)
            ]
        else:
            kept[key] = value
    return kept


def _inside(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key


def _near(key: str, fields: dict[str, FieldPath]) -> str:
    close = difflib.get_close_matches(key, fields, n=3, cutoff=0.6)
    if names := dict.fromkeys(fields[name].json_name for name in close):
        return _("Did you mean {names}?").format(names=either(names))
    known = dict.fromkeys(field.json_name for field in fields.values())
    return _("Known: {names}.").format(names=", ".join(known))
