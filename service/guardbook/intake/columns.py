"""The columns a sheet may have, made from the models and the shapes.

A field of a record is a column. Of parts, the one position or carrier place of a row is spread over
columns; stages, sewing stations, gatherings and holes are lists within a cell; the rest (planes, tie
points, options and the like) is for JSON and Turtle.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache

from guardbook.completeness.forms import FieldForm, form_of, forms_of
from guardbook.completeness.requirements import requirements
from guardbook.completeness.shape_files import STAGES
from guardbook.intake.words import models_of, words
from guardbook.records import terms
from guardbook.records.base import Model, Part
from guardbook.records.documents import TYPES
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.values import EDTF, XSD, Datatype, Reference, Scheme
from guardbook.wording import LANGUAGES


class Holds(StrEnum):
    """What the cells of a column hold, and so how they are read."""

    IDENTIFIER = "identifier"
    REVISION = "revision"
    TEXT = "text"
    LENGTH = "length in mm"
    ANGLE = "angle in degrees"
    NUMBER = "number"
    COUNT = "whole number"
    FLAG = "yes or no"
    DATE = "date"
    TERM = "term"
    RECORD = "another record"
    STAGE = "stage of the volume"
    HOLES = "holes"
    STAGES = "stages"
    STATIONS = "stations"
    GATHERINGS = "gatherings"


_SPREAD = {"positions", "carrierPlaces"}
_LISTED = {"stages": Holds.STAGES, "stations": Holds.STATIONS, "gatherings": Holds.GATHERINGS}
_OF_DATATYPE = {
    XSD + "integer": Holds.COUNT,
    XSD + "boolean": Holds.FLAG,
    EDTF: Holds.DATE,
}
_BY_UNIT = {"(mm)": Holds.LENGTH, "(degrees)": Holds.ANGLE}
_NAMES_A_ROW = {"title", "workshopNumber", "note"}
# What no stage asks for, but few rows are without.
_EVERYDAY = frozenset((*_NAMES_A_ROW, "status", "plane", "x", "y", "rotation", "mirrored", "layer"))
# The row says it by itself, or says it once for both events.
_SAID_BY_THE_ROW = {
    ("pieces", "Placing", "piece"),
    ("pieces", "Separation", "piece"),
    ("pieces", "Separation", "host"),
}


@dataclass(frozen=True, kw_only=True, eq=False)
class Column:
    """One column: the model it fills, the path to the field, what its cells hold, its label by language.

    `path` is `("height",)`, `("positions", "x")` or, for holes, `("features", "sewing-hole")`. `everyday`
    is true where a stage of the record asks for it.
    """

    model: str
    path: tuple[str, ...]
    holds: Holds
    labels: Mapping[str, str]
    help: str
    everyday: bool
    field: FieldPath | None = None

    @property
    def kind(self) -> str:
        """Give the kind of record the column belongs to."""
        return TYPES[self.model].kind

    @property
    def name(self) -> str:
        """Give the path as a word: `positions.x`."""
        return ".".join(self.path)

    @property
    def many(self) -> bool:
        """Tell whether a cell may hold several values."""
        return self.field is not None and self.field.many

    @property
    def scheme(self) -> str:
        """Give the list of terms its cells are taken from, or an empty text."""
        marker = self.field.marker if self.field else None
        return marker.name if isinstance(marker, Scheme) else ""

    def label(self, language: str = "en") -> str:
        """Give the label in a language, or in English."""
        return self.labels.get(language) or self.labels["en"]


@lru_cache(maxsize=1024)
def column_of(model: type[Model], name: str) -> Column:
    """Give one plain field of a model as a column. Raises KeyError, or TypeError for one that holds parts."""
    field = next((field for field in fields_of(model) if field.json_name == name), None)
    form = form_of(model.__name__, name)
    if field is None or form is None:
        raise KeyError(name)
    return _column(model.__name__, (name,), form, field)


@lru_cache(maxsize=16)
def columns_of(kind: str) -> tuple[Column, ...]:
    """Give the columns of a kind of sheet, in the order of the forms. Raises KeyError for an unknown kind."""
    found: list[Column] = []
    for at, model in enumerate(models_of(kind)):
        found.append(_named(model, "id", Holds.IDENTIFIER, everyday=at == 0))
        if at == 0:
            found.append(_named(model, "revision", Holds.REVISION, everyday=False))
        found += [column for column in _of_model(model) if (kind, model, column.name) not in _SAID_BY_THE_ROW]
    return tuple(_for_events(column) if column.model != models_of(kind)[0] else column for column in found)


def _for_events(column: Column) -> Column:
    """Fold away what names the event of a row, since the row already has a name."""
    return replace(column, everyday=False) if column.name in _NAMES_A_ROW else column


def elsewhere(kind: str) -> Mapping[str, str]:
    """Give the fields that no column can hold, by every label, with their JSON names."""
    covered = {(column.model, column.path[0]) for column in columns_of(kind)}
    return {
        terms.folded(text): form.name
        for model in models_of(kind)
        for form in forms_of(model)
        if (model, form.name) not in covered and (kind, model, form.name) not in _SAID_BY_THE_ROW
        for text in (form.name, *form.labels.values())
    }


@lru_cache(maxsize=1)
def _asked() -> frozenset[str]:
    """Give the names of the fields that a stage of the record asks for."""
    return frozenset(one.asks for stage in STAGES for one in requirements(stage).values())


def _named(model: str, name: str, holds: Holds, *, everyday: bool) -> Column:
    table = words()["columns"][name]
    labels = {language: table[language] for language in LANGUAGES}
    return Column(
        model=model, path=(name,), holds=holds, labels=labels, help=table["help"], everyday=everyday
    )


def _of_model(model: str) -> Iterator[Column]:
    paths = {path.json_name: path for path in fields_of(TYPES[model])}
    for form in forms_of(model):
        path = paths[form.name]
        if path.part is None:
            if isinstance(path.marker, Datatype | Scheme | Reference):
                yield _column(model, (form.name,), form, path)
        elif form.name in _SPREAD:
            yield from _spread(model, form, path.part)
        elif form.name in _LISTED:
            yield _listed(model, form)
        elif form.name == "features":
            yield from _holes(model, form)


def _column(model: str, path: tuple[str, ...], form: FieldForm, field: FieldPath) -> Column:
    return Column(
        model=model,
        path=path,
        holds=_holds(field, form),
        labels=form.labels,
        help=form.help,
        everyday=form.name in _asked() | _EVERYDAY or field.required,
        field=field,
    )


def _holds(field: FieldPath, form: FieldForm) -> Holds:
    match field.marker:
        case Scheme():
            return Holds.TERM
        case Reference(part="stage"):
            return Holds.STAGE
        case Reference():
            return Holds.RECORD
        case Datatype(iri) if iri == XSD + "decimal":
            return _BY_UNIT.get("(" + form.labels["en"].rpartition("(")[2], Holds.NUMBER)
        case Datatype(iri):
            return _OF_DATATYPE.get(iri, Holds.TEXT)
        case _:
            raise TypeError(f"{form.model}.{form.name} cannot be a column")


def _spread(model: str, form: FieldForm, part: type[Part]) -> Iterator[Column]:
    of_part: type[Model] = part
    for field in fields_of(of_part):
        inner = form_of(part.__name__, field.json_name)
        if inner and isinstance(field.marker, Datatype | Scheme | Reference):
            yield _column(model, (form.name, field.json_name), inner, field)


def _listed(model: str, form: FieldForm) -> Column:
    how = words()["cells"][form.name]
    return Column(
        model=model,
        path=(form.name,),
        holds=_LISTED[form.name],
        labels=form.labels,
        help=f"{form.help} {how}",
        everyday=form.name in _asked(),
    )


def _holes(model: str, form: FieldForm) -> Iterator[Column]:
    for slug, concept in terms.all_concepts()["feature"].items():
        if concept.broader == "hole":
            labels = {lang: concept.label(lang) for lang in LANGUAGES}
            yield Column(
                model=model,
                path=(form.name, slug),
                holds=Holds.HOLES,
                labels={lang: label[:1].upper() + label[1:] for lang, label in labels.items()},
                help=f"{concept.definition} {words()['cells']['features']}",
                everyday=slug == "sewing-hole",
            )
