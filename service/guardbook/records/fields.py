"""What each field of a model is in RDF, read once from the model's own annotations."""

from __future__ import annotations

import typing
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, cast

from guardbook import settings
from guardbook.records.base import Model, Part, camel
from guardbook.records.kinds import KINDS
from guardbook.records.values import Datatype, PropertyMark, Reference, Scheme, WithinRecord

Marker = Datatype | Scheme | Reference | WithinRecord | PropertyMark


@dataclass(frozen=True, kw_only=True)
class FieldPath:
    """One field: its name in Python and JSON, its property, who may see it, and what its values are.

    Exactly one of `marker` (a literal, term or reference) and `part` (a nested model) is set.
    """

    name: str
    json_name: str
    predicate: str
    visible: str
    many: bool
    required: bool
    marker: Marker | None = None
    part: type[Part] | None = None


@lru_cache(maxsize=64)
def fields_of(model: type[Model]) -> tuple[FieldPath, ...]:
    """Give the fields of a model that have an RDF path, in the order they are declared."""
    return tuple(_field(model, name) for name in model.model_fields if name != "id")


def _field(model: type[Model], name: str) -> FieldPath:
    info = model.model_fields[name]
    extra = cast("dict[str, str]", info.json_schema_extra)
    pieces = [*info.metadata, *_pieces(info.annotation)]
    return FieldPath(
        name=name,
        json_name=camel(name),
        predicate=settings.NAMESPACE + camel(name),
        visible=extra["visible"],
        many=tuple in pieces,
        required=info.is_required(),
        marker=next((piece for piece in pieces if isinstance(piece, Marker)), None),
        part=next((piece for piece in pieces if isinstance(piece, type) and issubclass(piece, Part)), None),
    )


def _pieces(annotation: Any) -> list[Any]:
    """Take an annotation apart into its types and the marks on them."""
    found = [annotation, typing.get_origin(annotation), *getattr(annotation, "__metadata__", ())]
    for inner in typing.get_args(annotation):
        found += _pieces(inner)
    return found


@lru_cache(maxsize=1)
def all_models() -> tuple[type[Model], ...]:
    """Give every model that becomes an RDF class: the records, and the parts they hold."""
    found: dict[type[Model], None] = dict.fromkeys(KINDS.values())
    waiting: list[type[Model]] = list(found)
    while waiting:
        for field in fields_of(waiting.pop(0)):
            if field.part and field.part not in found:
                found[field.part] = None
                waiting.append(field.part)
    return tuple(found)
