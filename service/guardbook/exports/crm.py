"""The CIDOC CRM view of records (ISO 21127:2023), worked out from the alignment when it is asked for.

Nodes that only CRM needs get hash IRIs of the record (`#crm-height`), so there are no blank nodes here
either. Times keep our EDTF text as the time-span's name and its bounds as P82a and P82b: outermost bounds, so
a date that is only about or perhaps so is given the reach that it has in our own reckoning.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, BinaryIO

import pyoxigraph as ox

from guardbook import settings
from guardbook.binding.times import ABOUT_YEARS, reach
from guardbook.evidence.days import day_number, day_of
from guardbook.exports.alignment import CRM, CrmPath, alignment
from guardbook.records.base import Model, Part, Record
from guardbook.records.dates import Day, bounds
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.mapping import RDF_TYPE
from guardbook.records.terms import concept
from guardbook.records.values import XSD, Reference, Scheme

_LABEL = ox.NamedNode("http://www.w3.org/2000/01/rdf-schema#label")
_MILLIMETRE = ox.NamedNode(settings.TERMS + "unit/millimetre")


def _crm(name: str) -> ox.NamedNode:
    return ox.NamedNode(CRM + name)


def to_crm(record: Record) -> list[ox.Triple]:
    """Give the CRM view of one record, without repeats, in the order it is told."""
    return list(dict.fromkeys(_triples(record, record.id, record.id)))


def _triples(model: Model, iri: str, record_iri: str) -> Iterator[ox.Triple]:
    classes = crm_classes(model)
    subject = ox.NamedNode(iri)
    for name in classes:
        yield ox.Triple(subject, RDF_TYPE, _crm(name))
    for field in fields_of(type(model)) if classes else ():
        value = getattr(model, field.name)
        for item in value if field.many else () if value is None else (value,):
            if isinstance(item, Part):
                yield from _triples(item, record_iri + item.id, record_iri)
            for path in alignment().paths_of(type(model).__name__, field.json_name):
                if path.only_on is None or path.only_on in classes:
                    yield from _along(path, field, item, subject, record_iri)
    yield from _place(model, subject, record_iri)


def crm_classes(model: Model) -> tuple[str, ...]:
    """Give the CRM classes of a record or part: its own, and those its terms add.

    An image's or a move's class depends on its kind; a move of no stated kind is a move (E9).
    """
    table = alignment()
    name = type(model).__name__
    found = list(table.classes.get(name, ()))
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        if field.json_name in table.terms:
            found += table.terms[field.json_name].get(str(value).lower(), ())
    return tuple(found) or (("E9_Move",) if name == "Move" else ())


def _along(
    path: CrmPath, field: FieldPath, value: Any, subject: ox.NamedNode, record_iri: str
) -> Iterator[ox.Triple]:
    at = subject
    for number, (predicate, node_class) in enumerate(path.steps, start=1):
        if node_class is None:
            yield from _value(predicate, field, value, at, record_iri, inverse=path.inverse)
            return
        last = number == len(path.steps)
        name = field.json_name if last else node_class.partition("_")[0]
        # of languages a record may name several
        node = _node(subject, f"{name}-{value}" if last and node_class == "E56_Language" else name)
        yield ox.Triple(at, _crm(predicate), node)
        yield ox.Triple(node, RDF_TYPE, _crm(node_class))
        if last:
            yield from _held(node, node_class, field, value)
        at = node


def _node(subject: ox.NamedNode, name: str) -> ox.NamedNode:
    joint = "." if "#" in subject.value else "#"
    return ox.NamedNode(f"{subject.value}{joint}crm-{name}")


def _value(
    predicate: str, field: FieldPath, value: Any, subject: ox.NamedNode, record_iri: str, *, inverse: bool
) -> Iterator[ox.Triple]:
    if isinstance(value, Part):
        yield ox.Triple(subject, _crm(predicate), ox.NamedNode(record_iri + value.id))
    elif isinstance(field.marker, Scheme) and predicate != "P3_has_note":
        yield from _term(predicate, field.marker.name, value, subject)
    elif isinstance(field.marker, Reference):
        ends = (ox.NamedNode(value), subject) if inverse else (subject, ox.NamedNode(value))
        yield ox.Triple(ends[0], _crm(predicate), ends[1])
    else:
        said = concept(field.marker.name, value).label() if isinstance(field.marker, Scheme) else value
        yield ox.Triple(subject, _crm(predicate), ox.Literal(f"{_words(field.json_name)}: {said}"))


def _place(model: Any, subject: ox.NamedNode, record_iri: str) -> Iterator[ox.Triple]:
    """Give where a part lies as Well-Known Text; a part that is no place itself has one on its record."""
    frame = alignment().places.get(type(model).__name__)
    if frame is None or model.x is None or model.y is None:
        return
    place = subject
    if "E53_Place" not in crm_classes(model):
        place = _node(subject, "E53")
        yield ox.Triple(subject, _crm("P53_has_former_or_current_location"), place)
        yield ox.Triple(place, RDF_TYPE, _crm("E53_Place"))
        yield ox.Triple(place, _crm("P157_is_at_rest_relative_to"), ox.NamedNode(record_iri))
    yield ox.Triple(place, _crm("P168_place_is_defined_by"), ox.Literal(_well_known_text(model)))
    yield ox.Triple(place, _crm("P3_has_note"), ox.Literal(frame))


def _well_known_text(model: Any) -> str:
    """Write a point, or a line for what runs on (OGC 06-103r4, clause 7, from memory)."""
    start = f"{model.x:f} {model.y:f}"
    end = (getattr(model, "to_x", None), getattr(model, "to_y", None))
    return f"POINT ({start})" if None in end else f"LINESTRING ({start}, {end[0]:f} {end[1]:f})"


def _term(predicate: str, scheme: str, slug: str, subject: ox.NamedNode) -> Iterator[ox.Triple]:
    found = concept(scheme, slug)
    node = ox.NamedNode(found.iri)
    kind = "E57_Material" if predicate == "P45_consists_of" else "E55_Type"
    yield ox.Triple(subject, _crm(predicate), node)
    yield ox.Triple(node, RDF_TYPE, _crm(kind))
    yield ox.Triple(node, _LABEL, ox.Literal(found.label(), language="en"))


def _held(node: ox.NamedNode, node_class: str, field: FieldPath, value: Any) -> Iterator[ox.Triple]:
    """Give what a last node says: a dimension its number and unit, a time-span its bounds, others text."""
    match node_class:
        case "E54_Dimension":
            number = ox.Literal(format(value, "f"), datatype=ox.NamedNode(XSD + "decimal"))
            yield ox.Triple(node, _crm("P90_has_value"), number)
            yield ox.Triple(node, _crm("P91_has_unit"), _MILLIMETRE)
            yield ox.Triple(_MILLIMETRE, RDF_TYPE, _crm("E58_Measurement_Unit"))
            yield ox.Triple(node, _LABEL, ox.Literal(_words(field.json_name), language="en"))
        case "E52_Time-Span":
            yield from _time_span(node, value)
        case "E56_Language":
            yield ox.Triple(node, _LABEL, ox.Literal(value))
        case "E41_Appellation" | "E42_Identifier" | "E33_Linguistic_Object":
            yield ox.Triple(node, _crm("P190_has_symbolic_content"), ox.Literal(str(value)))
        case _:
            yield ox.Triple(node, _crm("P3_has_note"), ox.Literal(str(value)))


def _time_span(node: ox.NamedNode, text: str) -> Iterator[ox.Triple]:
    yield ox.Triple(node, _LABEL, ox.Literal(text))
    found, far = bounds(text), reach(text)
    if any(sign in text for sign in "~?%"):
        note = f"{text} is taken to reach {ABOUT_YEARS} years further on either side"
        yield ox.Triple(node, _crm("P3_has_note"), ox.Literal(note))
    for name, known, day, clock in (
        ("P82a_begin_of_the_begin", found.earliest, far.earliest, "00:00:00"),
        ("P82b_end_of_the_end", found.latest, far.latest, "23:59:59"),
    ):
        if known is not None:
            moment = ox.Literal(f"{_iso(day)}T{clock}", datatype=ox.NamedNode(XSD + "dateTime"))
            yield ox.Triple(node, _crm(name), moment)


def _iso(day: Day) -> str:
    # a leap day that was moved to a year without one
    year, month, number = day_of(day_number(day))
    return f"{'-' if year < 0 else ''}{abs(year):04}-{month:02}-{number:02}"


def _words(name: str) -> str:
    return "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name)


def write_crm(records: Iterable[Record], output: BinaryIO) -> None:
    """Write the CRM view as Turtle."""
    triples = (triple for record in records for triple in to_crm(record))
    ox.serialize(triples, output, ox.RdfFormat.TURTLE, prefixes={"crm": CRM, "gb": settings.NAMESPACE})
