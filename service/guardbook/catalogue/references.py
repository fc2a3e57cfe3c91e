"""Which records a record names, from its models' own annotations."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import fields_of
from guardbook.records.values import Reference


@dataclass(frozen=True)
class Named:
    """One reference: the record, the part of it (`#stage-2`, or empty), the path of the field.

    `needed` is true where the record would not be one without it, such as the piece of a placing.
    """

    target: str
    part: str
    where: str
    needed: bool


def references_of(record: Record) -> tuple[Named, ...]:
    """Give every reference of a record to a record, at any depth, in order."""
    return tuple(_references(record, ""))


def _references(model: Model, prefix: str) -> Iterator[Named]:
    for field in fields_of(type(model)):
        if not (field.part or isinstance(field.marker, Reference)):
            continue
        value = getattr(model, field.name)
        items = value if field.many else () if value is None else (value,)
        for number, item in enumerate(items):
            where = prefix + field.json_name + (f"[{number}]" if field.many else "")
            if isinstance(item, Part):
                yield from _references(item, where + ".")
            else:
                target, sign, part = item.partition("#")
                yield Named(target, sign + part, where, field.required and not prefix)
