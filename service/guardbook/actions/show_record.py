"""Show one record in words: every field with its label, names written out, and what refers to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby
from typing import Any

from guardbook.actions.kind_words import kind_in_words
from guardbook.binding.stay_words import stage_words
from guardbook.catalogue.access import Access, Kept
from guardbook.completeness.forms import FieldForm, forms_of, groups
from guardbook.errors import Gone, NotFound, WrongUse
from guardbook.records import terms
from guardbook.records.base import Model, Record
from guardbook.records.event import Event
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.host import HostVolume
from guardbook.records.values import PropertyMark, Reference, Scheme
from guardbook.wording import LANGUAGES, _, decimal


@dataclass(frozen=True, kw_only=True)
class Value:
    """A value in words; `iri` where it names a record, `lines` where it is a part with fields of its own."""

    text: str
    iri: str | None = None
    lines: tuple[Line, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Line:
    """One field of a record: its JSON name, its label, its values."""

    name: str
    label: str
    values: tuple[Value, ...]


@dataclass(frozen=True, kw_only=True)
class Section:
    """The fields that belong together."""

    title: str
    lines: tuple[Line, ...]

    @property
    def has_parts(self) -> bool:
        """Say whether any of its values has fields of its own."""
        return any(value.lines for line in self.lines for value in line.values)


@dataclass(frozen=True, kw_only=True)
class Linked:
    """Another record that refers to this one."""

    iri: str
    kind: str
    title: str


@dataclass(frozen=True, kw_only=True)
class Shown:
    """A record in words, its revision, and the records that refer to it."""

    kept: Kept
    kind: str
    title: str
    sections: tuple[Section, ...]
    linked: tuple[Linked, ...]


def show_record(access: Access, name: str, language: str = "en") -> Shown:
    """Show the record of an identifier in any spelling, or of a workshop number.

    Labels are in `language` where there are such. Raises NotFound, Gone, or WrongUse for a language that
    there is not.
    """
    if language not in LANGUAGES:
        raise WrongUse(
            message=_("There are no labels in {language}, only in {languages}.").format(
                language=repr(language), languages=", ".join(LANGUAGES)
            )
        )
    return _shown(access, access.record(access.resolve(name)), language)


def show_revision(access: Access, iri: str, number: int, language: str = "en") -> Shown:
    """Show a record as it was. Raises NotFound, and Gone where that revision took it out."""
    return _shown(access, access.at_revision(iri, number), language)


def _shown(access: Access, kept: Kept, language: str) -> Shown:
    writer = _Writer(access, language)
    return Shown(
        kept=kept,
        kind=kind_in_words(type(kept.record)),
        title=_title(kept.record, language),
        sections=tuple(writer.sections(kept.record)),
        linked=tuple(linked_to(access, kept.record.id, language)),
    )


def linked_to(access: Access, iri: str, language: str = "en") -> Iterator[Linked]:
    """Give the records that refer to this one, by kind."""
    records = [access.record(other).record for other in access.about(iri)]
    for record in sorted(
        records, key=lambda found: (found.kind, getattr(found, "when", None) or "", found.id)
    ):
        yield Linked(iri=record.id, kind=kind_in_words(type(record)), title=_title(record, language))


def _title(record: Record, language: str) -> str:
    told = record.in_short(language) if isinstance(record, Event) and not record.title else ""
    return told or record.display_title


@dataclass(frozen=True)
class _Writer:
    access: Access
    language: str

    def sections(self, record: Model) -> Iterator[Section]:
        for group, filled in groupby(self._lines(record), key=lambda pair: pair[0].group):
            title = groups()[group].label(self.language)
            yield Section(title=title, lines=tuple(line for _, line in filled))

    def _lines(self, model: Model) -> Iterator[tuple[FieldForm, Line]]:
        """Give the fields that are filled, in the order of a form."""
        fields = {field.json_name: field for field in fields_of(type(model))}
        for form in forms_of(type(model).__name__):
            field = fields[form.name]
            value = getattr(model, field.name)
            items = value if field.many else () if value is None else (value,)
            if items:
                values = tuple(self._value(item, field) for item in items)
                yield form, Line(name=form.name, label=form.label(self.language), values=values)

    def _value(self, item: Any, field: FieldPath) -> Value:
        match field.marker:
            case None:
                return Value(
                    text=item.id.removeprefix("#"), lines=tuple(line for _, line in self._lines(item))
                )
            case Scheme(scheme):
                return Value(text=terms.label(scheme, item, self.language))
            case Reference():
                return Value(text=self._name_of(item), iri=item)
            case PropertyMark():
                return Value(text=item)
            case _:
                return Value(text=_in_words(item))

    def _name_of(self, iri: str) -> str:
        """Give the title of a record that is referred to, with the part's name behind it."""
        record_iri, _hash, part = iri.partition("#")
        try:
            record = self.access.record(record_iri).record
        except (NotFound, Gone):
            return f"{record_iri.rpartition('/')[2]} {part}".rstrip()
        title = _title(record, self.language)
        stages = record.stages if isinstance(record, HostVolume) else ()
        stage = next((one for one in stages if one.id == f"#{part}"), None)
        return f"{title}, {stage_words(stage)}" if stage else f"{title} {part}".rstrip()


def _in_words(value: Any) -> str:
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    return decimal(format(value, "f")) if isinstance(value, Decimal) else str(value)
