"""The data dictionary: every model, every field with its label, help, kind of value and who may see it."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook import settings
from guardbook.actions.kind_words import kind_in_words
from guardbook.completeness.forms import FieldForm, forms_of
from guardbook.exports.vocabulary import ontology
from guardbook.records.base import Model
from guardbook.records.fields import FieldPath, all_models, fields_of
from guardbook.records.values import Datatype, PropertyMark, Reference, Scheme, WithinRecord

_DATATYPES = {
    "string": "text",
    "decimal": "a number",
    "integer": "a whole number",
    "boolean": "yes or no",
    "EDTF": "a date (EDTF, ISO 8601-2)",
    "wktLiteral": "an outline (WKT)",
    "anyURI": "a web address",
    "language": "a language tag (BCP 47)",
}


@dataclass(frozen=True, kw_only=True)
class FieldTold:
    """One field of one model in words; `scheme` is the list of terms it chooses from, if it does."""

    name: str
    label: str
    help: str
    values: str
    many: bool
    required: bool
    visible: str
    scheme: str | None


@dataclass(frozen=True, kw_only=True)
class ModelTold:
    """A kind of record, or of part of one, with its fields in the order of a form."""

    name: str
    iri: str
    title: str
    about: str
    fields: tuple[FieldTold, ...]


def data_dictionary(language: str = "en") -> tuple[ModelTold, ...]:
    """Give every model with its fields, labels in a language where there are such."""
    return tuple(
        ModelTold(
            name=model.__name__,
            iri=settings.NAMESPACE + model.__name__,
            title=kind_in_words(model),
            about=(model.__doc__ or "").strip().partition("\n\n")[0],
            fields=tuple(_fields(model, language)),
        )
        for model in all_models()
    )


def ontology_in_turtle() -> bytes:
    """Give the ontology, which says the same to programs, as Turtle."""
    return ontology().encode()


def _fields(model: type[Model], language: str) -> list[FieldTold]:
    fields = {field.json_name: field for field in fields_of(model)}
    return [_field(fields[form.name], form, language) for form in forms_of(model.__name__)]


def _field(field: FieldPath, form: FieldForm, language: str) -> FieldTold:
    return FieldTold(
        name=field.json_name,
        label=form.label(language),
        help=form.help,
        values=_values(field),
        many=field.many,
        required=field.required,
        visible=field.visible,
        scheme=field.marker.name if isinstance(field.marker, Scheme) else None,
    )


def _values(field: FieldPath) -> str:
    """Say what a value is."""
    match field.marker:
        case Scheme():
            return "a term"
        case Reference(kinds, part):
            return f"a {part} of a {' or '.join(kinds)}" if part else f"a record: {' or '.join(kinds)}"
        case WithinRecord(part):
            return f"a part of the same record, such as #{part}-1"
        case PropertyMark():
            return "the name of a field"
        case Datatype(iri):
            return _DATATYPES[iri.replace("#", "/").rpartition("/")[2]]
        case _:
            return f"parts: {field.part.__name__ if field.part else ''}"
