"""Fields as a glossed list: the label of each in the chosen language, and its value.

Whatever TEI has no element of its own for is told so, and nothing is lost. Private fields are never told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from xml.etree.ElementTree import Element

from guardbook.completeness.forms import form_of, forms_of
from guardbook.exports.surroundings import Surroundings
from guardbook.exports.tei.elements import Child, datable, element
from guardbook.intake.words import in_language
from guardbook.records.base import Model, Part, Record, parts_of
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.terms import concept, of_scheme
from guardbook.records.values import EDTF, Datatype, PropertyMark, Reference, Scheme, WithinRecord


@dataclass(frozen=True)
class Teller:
    """Tells of one record in the words of its surroundings."""

    record: Record
    around: Surroundings

    def term(self, scheme: str, slug: str | None) -> str | None:
        """Give the label of a term."""
        if slug is None:
            return None
        return concept(scheme, slug).label(self.around.language) if slug in of_scheme(scheme) else slug

    def label(self, model: type[Model], name: str) -> str:
        """Give what a field is called, by its JSON name."""
        form = form_of(model.__name__, name)
        return form.label(self.around.language) if form else name

    def reference(self, iri: str | None) -> Element | None:
        """Give a reference to another record or a part of it, by its name."""
        if iri is None:
            return None
        return element("ref", self._name(iri), target=iri)

    def _name(self, iri: str) -> str:
        address, _, part = iri.partition("#")
        name = self.around.name(address) or address.rpartition("/")[2]
        return f"{name} #{part}" if part else name

    def glossed(self, model: Model, *, without: Collection[str] = ()) -> Element | None:
        """Give the filled fields of a record or part, save some by their JSON names; None if none is left."""
        told = [child for pair in self._pairs(model, without) for child in pair]
        return element("list", *told, type="gloss") if told else None

    def _pairs(self, model: Model, without: Collection[str]) -> Iterator[tuple[Element, Element]]:
        fields = {field.json_name: field for field in fields_of(type(model)) if field.visible == "public"}
        for form in forms_of(type(model).__name__):
            field = fields.get(form.name)
            value = getattr(model, field.name) if field else None
            if field is None or form.name in without or value is None or value == ():
                continue
            yield element("label", form.label(self.around.language)), self._item(value, field)

    def _item(self, value: Any, field: FieldPath) -> Element:
        items = value if field.many else (value,)
        if isinstance(items[0], Part):
            return element("item", element("list", *(self.part(part) for part in items)))
        children: list[Child] = []
        for one in items:
            children += ["; ", self._value(one, field)]
        return element("item", *children[1:])

    def part(self, part: Part) -> Element:
        """Tell of a part of the record, named as in the record."""
        return element("item", self.glossed(part) or part.id, n=part.id.removeprefix("#"))

    def _value(self, value: Any, field: FieldPath) -> Child:
        match field.marker:
            case Scheme(scheme):
                return element("term", self.term(scheme, value), ref=concept(scheme, value).iri)
            case Reference():
                return self.reference(value)
            case WithinRecord():
                return element("ref", value, target=self.record.id + value)
            case PropertyMark():
                return self._asked(value)
            case Datatype(iri) if iri == EDTF:
                return element("date", value, **datable(value))
            case _:
                return self._plain(value)

    def _asked(self, name: str) -> str:
        return next((self.label(type(one), name) for one in (self.record, *parts_of(self.record))), name)

    def _plain(self, value: Any) -> str:
        if isinstance(value, bool):
            return in_language("words", "yes" if value else "no", self.around.language)
        return format(value, "f") if isinstance(value, Decimal) else str(value)
