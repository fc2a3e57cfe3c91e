"""Records to RDF and back: `to_quads` and `from_quads`, driven by the models' own annotations.

One record is one named graph whose name is the record's IRI; parts are hash IRIs of it. No blank node is
ever made. `from_quads(to_quads(record)) == record` holds for every record (tested as a law).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

import pyoxigraph as ox
from pydantic import ValidationError

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord
from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import FieldPath, fields_of
from guardbook.records.kinds import KINDS
from guardbook.records.reports import faults_from
from guardbook.records.values import XSD, Datatype, PropertyMark, Scheme, WithinRecord
from guardbook.wording import _

RDF_TYPE = ox.NamedNode("http://www.w3.org/1999/02/22-rdf-syntax-ns#type")
CLASS_OF_KIND = {kind: settings.NAMESPACE + model.__name__ for kind, model in KINDS.items()}

Node = ox.NamedNode | ox.Literal
Rows = dict[str, list[tuple[str, Node]]]


def to_quads(record: Record) -> list[ox.Quad]:
    """Give the record's triples in its own named graph, sorted as canonical N-Quads are."""
    graph = ox.NamedNode(record.id)
    quads: list[ox.Quad] = []
    _write(record, record.id, record.id, graph, quads)
    return sorted(quads, key=str)


def _write(model: Model, iri: str, record_iri: str, graph: ox.NamedNode, quads: list[ox.Quad]) -> None:
    subject = ox.NamedNode(iri)
    kind = ox.NamedNode(settings.NAMESPACE + type(model).__name__)
    quads.append(ox.Quad(subject, RDF_TYPE, kind, graph))
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        for item in value if field.many else () if value is None else (value,):
            if isinstance(item, Part):
                node: Node = ox.NamedNode(record_iri + item.id)
                _write(item, record_iri + item.id, record_iri, graph, quads)
            else:
                node = _to_term(item, field, record_iri)
            quads.append(ox.Quad(subject, ox.NamedNode(field.predicate), node, graph))


def _to_term(value: Any, field: FieldPath, record_iri: str) -> Node:
    match field.marker:
        case Datatype(iri):
            return ox.Literal(_lexical(value), datatype=ox.NamedNode(iri))
        case Scheme(name):
            return ox.NamedNode(f"{settings.TERMS}{name}/{value}")
        case WithinRecord():
            return ox.NamedNode(record_iri + value)
        case PropertyMark():
            return ox.NamedNode(settings.NAMESPACE + value)
        case _:
            return ox.NamedNode(value)


def _lexical(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case Decimal():
            return format(value, "f")
        case _:
            return str(value)


def from_quads(quads: Iterable[ox.Quad]) -> Record:
    """Read one record from the triples of its graph (the graph names are not looked at).

    Raises InvalidRecord with every fault found: no record or two in the triples, an unknown property, a
    value of the wrong kind, a triple that belongs to nothing in the record.
    """
    rows, faults = _rows(quads)
    found = [
        (subject, kind)
        for subject, values in rows.items()
        for kind, name in CLASS_OF_KIND.items()
        if (RDF_TYPE.value, ox.NamedNode(name)) in values
    ]
    if len(found) != 1:
        names = ", ".join(subject for subject, _kind in found) or _("none")
        expected = _("exactly one record with its type")
        faults.append(Fault(where=_("the graph"), found=names, expected=expected))
        raise InvalidRecord(message=_("These triples are not one record."), faults=tuple(faults))
    iri, kind = found[0]
    model = KINDS[kind]
    reader = _Reader(iri, rows, faults)
    data = reader.read(model, iri)
    faults += [
        Fault(
            where=subject,
            found=_("statements"),
            expected=_("to be reached from the record"),
            mend=_("Link or remove them."),
        )
        for subject in rows
        if subject not in reader.used
    ]
    message = _("{record} is not right yet.").format(record=iri)
    try:
        record = model.model_validate(data)
    except ValidationError as error:
        raise InvalidRecord(message=message, faults=(*faults, *faults_from(error))) from error
    if faults:
        raise InvalidRecord(message=message, faults=tuple(faults))
    return record


def _rows(quads: Iterable[ox.Quad]) -> tuple[Rows, list[Fault]]:
    rows: Rows = defaultdict(list)
    faults = []
    for quad in quads:
        if isinstance(quad.subject, ox.NamedNode) and isinstance(quad.object, (ox.NamedNode, ox.Literal)):
            rows[quad.subject.value].append((quad.predicate.value, quad.object))
        else:
            faults.append(
                Fault(
                    where=str(quad.predicate),
                    found=_("a blank node"),
                    expected=_("an IRI"),
                    mend=_("Name it #part."),
                )
            )
    return rows, faults


class _Reader:
    """Reads one record's rows into the data of its model, collecting faults on the way."""

    def __init__(self, record_iri: str, rows: Rows, faults: list[Fault]) -> None:
        self.record_iri = record_iri
        self.rows = rows
        self.faults = faults
        self.used = {record_iri}

    def read(self, model: type[Model], iri: str) -> dict[str, Any]:
        """Give the data of a record, or of a part of it, under the names of its fields."""
        fields = {field.predicate: field for field in fields_of(model)}
        data: dict[str, Any] = {"id": iri}
        for predicate, node in self.rows.get(iri, ()):
            if field := fields.get(predicate):
                self._put(data, field, node, f"{iri} {field.json_name}")
            elif predicate != RDF_TYPE.value or node.value != settings.NAMESPACE + model.__name__:
                self.faults.append(_unknown(iri, predicate, node, model))
        return data

    def _put(self, data: dict[str, Any], field: FieldPath, node: Node, where: str) -> None:
        value = self._part(field.part, node, where) if field.part else self._value(field, node, where)
        if value is None:
            return
        if field.many:
            data.setdefault(field.name, []).append(value)
        elif field.name in data:
            self.faults.append(
                Fault(
                    where=where,
                    found=_("more than one value"),
                    expected=_("one value"),
                    mend=_("Keep one."),
                )
            )
        else:
            data[field.name] = value

    def _part(self, model: type[Part], node: Node, where: str) -> dict[str, Any] | None:
        if node.value in self.used or not isinstance(node, ox.NamedNode):
            expected = _("a part of its own, held once")
            self.faults.append(Fault(where=where, found=str(node), expected=expected))
            return None
        self.used.add(node.value)
        return self.read(model, node.value)

    def _value(self, field: FieldPath, node: Node, where: str) -> Any:
        match field.marker, node:
            case Datatype(iri), ox.Literal() if node.language is None and _fits(node.datatype.value, iri):
                return _python_value(node, iri)
            case Datatype(iri), _:
                expected = _("a literal of type {type}").format(type=_short(iri))
            case WithinRecord(), ox.NamedNode():
                return node.value.removeprefix(self.record_iri)
            case PropertyMark(), ox.NamedNode():
                return node.value.removeprefix(settings.NAMESPACE)
            case _, ox.NamedNode():
                return node.value
            case _:
                expected = _("an IRI")
        self.faults.append(Fault(where=where, found=str(node), expected=expected))
        return None


def _unknown(iri: str, predicate: str, node: Node, model: type[Model]) -> Fault:
    names = ", ".join(sorted(field.json_name for field in fields_of(model)))
    return Fault(
        where=f"{iri} {predicate.removeprefix(settings.NAMESPACE)}",
        found=node.value,
        expected=_("a property of {model}").format(model=model.__name__),
        mend=_("Known: {names}.").format(names=names),
    )


def _fits(found: str, wanted: str) -> bool:
    return found == wanted or (wanted == XSD + "decimal" and found == XSD + "integer")


def _python_value(node: ox.Literal, datatype: str) -> Any:
    if datatype == XSD + "boolean":
        return {"true": True, "1": True, "false": False, "0": False}.get(node.value, node.value)
    return node.value


def _short(iri: str) -> str:
    return iri.replace(XSD, "xsd:").rpartition("/")[2]


def canonical(quads: Iterable[ox.Quad]) -> str:
    """Give the canonical N-Quads of triples without blank nodes (W3C RDFC-1.0): sorted, one a line."""
    lines = ox.serialize(sorted(set(quads), key=str), format=ox.RdfFormat.N_QUADS)
    return (lines or b"").decode()


def parse_canonical(body: str) -> list[ox.Quad]:
    """Read canonical N-Quads back, each literal exactly as it was written."""
    return list(ox.parse(input=body, format=ox.RdfFormat.N_QUADS))
