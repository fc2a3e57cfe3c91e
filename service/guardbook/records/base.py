"""What every record and every part of a record has in common, and how a field names its RDF path."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, Any, ClassVar, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator
from pydantic.config import JsonDict

from guardbook.records.values import (
    Date,
    PropertyMark,
    Reference,
    Scheme,
    Text,
    record_iri,
)
from guardbook.wording import _

VisibilityTerm = Annotated[str, Scheme("visibility")]
AnswerTerm = Annotated[str, Scheme("answer")]
AgentRef = Annotated[str, Reference(("agent",))]
KeeperRef = Annotated[str, Reference(("institution", "agent"))]
PropertyName = Annotated[str, Field(pattern=r"^[a-z][A-Za-z0-9]*$"), PropertyMark()]


def rdf(*, visible: str = "public", required: bool = False, many: bool = False) -> Any:
    """Describe a field: its place in RDF and the least trusted viewer who may see it.

    The property, the JSON name and the Python name are one: `line_pitch` is `linePitch` in JSON and
    `gb:linePitch` in RDF, in every model that has it. `visible` is one of public, partners, workshop (the
    record itself may be stricter still).
    """
    extra: JsonDict = {"visible": visible}
    if required:
        return Field(json_schema_extra=extra)
    return Field(default=() if many else None, json_schema_extra=extra)


def camel(name: str) -> str:
    """Give the JSON name of a field: `line_pitch` is `linePitch`."""
    head, *rest = name.split("_")
    return head + "".join(word.capitalize() for word in rest)


def natural_order(text: str) -> tuple[tuple[int, Decimal, str], ...]:
    """Sort `hole-2` before `hole-10`."""
    pieces = re.findall(r"[0-9]+|[^0-9]+", text)
    return tuple((0, Decimal(p), "") if p.isascii() and p.isdigit() else (1, Decimal(0), p) for p in pieces)


class Model(BaseModel):
    """A frozen value whose several-valued fields have one fixed order, so that equal means equal."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", alias_generator=camel, populate_by_name=True, hide_input_in_errors=False
    )

    @model_validator(mode="after")
    def _in_fixed_order(self) -> Self:
        for name in type(self).model_fields:
            value = getattr(self, name)
            if isinstance(value, tuple) and value:
                object.__setattr__(self, name, _ordered(value))
        return self


def _ordered(values: tuple[Any, ...]) -> tuple[Any, ...]:
    if isinstance(values[0], Part):
        return tuple(sorted(values, key=lambda part: (natural_order(part.id), part.id)))
    return tuple(sorted(set(values), key=str))


def _part_name(value: str) -> str:
    name = value.rpartition("#")[2]
    if not re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_.-]*", name):
        raise ValueError(_("a part's name after '#': letters, digits, '-', '.' and '_', such as #hole-3"))
    return "#" + name


class Part(Model):
    """Something within a record that has its own IRI: the record's, with `#` and a name."""

    id: Annotated[str, AfterValidator(_part_name)]

    prefix: ClassVar[str] = "part"


class Answer(Part):
    """What was asked of a field and could not be given: looked for and not found, or not knowable.

    `asked` is the name of the field it answers for.
    """

    prefix: ClassVar[str] = "answer"

    asked: PropertyName = rdf(required=True)
    answer: AnswerTerm = rdf(required=True)
    reason: Text | None = rdf()
    by: AgentRef | None = rdf()
    when: Date | None = rdf()


class Record(Model):
    """One record: one IRI, one named graph, one JSON document, one page."""

    id: str
    title: Text | None = rdf()
    workshop_number: Text | None = rdf()
    note: Text | None = rdf()
    private_note: Text | None = rdf(visible="workshop")
    visibility: VisibilityTerm | None = rdf()
    answers: tuple[Answer, ...] = rdf(many=True)

    kind: ClassVar[str] = ""

    @model_validator(mode="before")
    @classmethod
    def _full_iri(cls, data: Any) -> Any:
        if not isinstance(data, dict) or not isinstance(data.get("id"), str) or not cls.kind:
            return data
        return {**data, "id": record_iri(data["id"], (cls.kind,))}

    @model_validator(mode="after")
    def _parts_named_once(self) -> Self:
        names = [part.id for part in parts_of(self)]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            told = _("every part named once ({parts} named more than once)")
            raise ValueError(told.format(parts=", ".join(twice)))
        return self

    @property
    def identifier(self) -> str:
        """Give the identifier with its check symbol, without the kind."""
        return self.id.rpartition("/")[2]

    @property
    def short(self) -> str:
        """Give `kind/identifier`."""
        return f"{self.kind}/{self.identifier}"

    @property
    def display_title(self) -> str:
        """Give a title to show: where none was given, a name, or else the kind and the identifier."""
        return self.title or getattr(self, "name", None) or f"{type(self).__name__} {self.identifier}"


def parts_of(record: Model) -> list[Part]:
    """Give all parts of a record, at any depth, in order."""
    found: list[Part] = []
    for name in type(record).model_fields:
        value = getattr(record, name)
        for item in value if isinstance(value, tuple) else (value,):
            if isinstance(item, Part):
                found += [item, *parts_of(item)]
    return found
