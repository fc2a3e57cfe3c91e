"""Fill in some fields of a record, written as a person types them: `height=45.5`."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from typing import Any

from guardbook.actions.merge_record import merge_record, starting_point
from guardbook.catalogue.access import Access, Revision
from guardbook.errors import Fault, WrongUse
from guardbook.records.base import Part, Record
from guardbook.records.documents import to_document
from guardbook.records.fields import FieldPath, fields_of

Assignment = tuple[str, str]


def set_fields(
    access: Access,
    name: str,
    assignments: Sequence[str],
    *,
    started_from: int,
    who: str,
    what_for: str,
    sure: bool = False,
) -> Revision:
    """Set fields of a record and save it.

    `height=45.5` sets a field, `note=` empties it, a field of several values is given once for each
    (`fixings=laced fixings=tied`), and `position-1.x=12` sets a field of a part, which is made if it is not
    there. Raises WrongUse for what is no assignment or no field, and all that `merge_record` raises.
    """
    iri = access.resolve(name)
    record = starting_point(access, iri, started_from).record
    patch = patch_from(record, assignments)
    return merge_record(access, iri, patch, started_from=started_from, who=who, what_for=what_for, sure=sure)


def patch_from(record: Record, assignments: Sequence[str]) -> dict[str, Any]:
    """Turn assignments into a merge patch for this record, its parts' lists written out in full."""
    faults = [_not_an_assignment(text) for text in assignments if "=" not in text]
    pairs = [(key.strip(), value) for key, _, value in (text.partition("=") for text in assignments)]
    own = [(key, value) for key, value in pairs if "." not in key]
    patch = _values(own, fields_of(type(record)), "", faults)
    for field in fields_of(type(record)):
        if field.part and (here := _of_parts(pairs, field.part)):
            listed = to_document(record).get(field.json_name, [])
            patch[field.json_name] = _parts(listed, here, field.part, faults)
    faults += [_no_field(key, type(record)) for key, _ in pairs if "." in key and not _part_of(key, record)]
    if faults or not assignments:
        raise WrongUse(message="Say what to set as field=value.", faults=tuple(faults))
    return patch


def _of_parts(pairs: Iterable[Assignment], part: type[Part]) -> list[Assignment]:
    return [(key, value) for key, value in pairs if key.startswith(f"{part.prefix}-") and "." in key]


def _part_of(key: str, record: Record) -> bool:
    parts = [field.part for field in fields_of(type(record)) if field.part]
    return any(_of_parts([(key, "")], part) for part in parts)


def _parts(
    listed: list[dict[str, Any]], pairs: list[Assignment], part: type[Part], faults: list[Fault]
) -> list[dict[str, Any]]:
    parts = {str(body["id"]).rpartition("#")[2]: dict(body) for body in listed}
    for name in dict.fromkeys(key.partition(".")[0] for key, _ in pairs):
        own = [(key.partition(".")[2], value) for key, value in pairs if key.partition(".")[0] == name]
        body = parts.setdefault(name, {"id": f"#{name}"})
        for field, value in _values(own, fields_of(part), f"{name}.", faults).items():
            body[field] = value
    return [{key: value for key, value in body.items() if value is not None} for body in parts.values()]


def _values(
    pairs: list[Assignment], fields: Sequence[FieldPath], prefix: str, faults: list[Fault]
) -> dict[str, Any]:
    known = {field.json_name: field for field in fields if not field.part}
    values: dict[str, Any] = {}
    for key, value in pairs:
        field = known.get(key)
        if field is None:
            faults.append(_unknown(prefix + key, key, known))
        elif not value:
            values[key] = None
        elif field.many:
            values[key] = [*(values.get(key) or []), value]
        elif key in values:
            faults.append(Fault(where=prefix + key, found="two values", expected="one value"))
        else:
            values[key] = value
    return values


def _unknown(where: str, key: str, known: Iterable[str]) -> Fault:
    near = difflib.get_close_matches(key, known, n=3, cutoff=0.6)
    mend = f"Did you mean {' or '.join(near)}?" if near else f"They are: {', '.join(known)}."
    return Fault(where=where, found=repr(key), expected="one of the fields of this record", mend=mend)


def _not_an_assignment(text: str) -> Fault:
    return Fault(where=text, found=repr(text), expected="field=value, such as height=45.5")


def _no_field(key: str, model: type[Record]) -> Fault:
    prefixes = ", ".join(f"{field.part.prefix}-1" for field in fields_of(model) if field.part)
    return Fault(where=key, found=key, expected=f"a field of a part of this record ({prefixes})")
