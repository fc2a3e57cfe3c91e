"""What cannot be, and what is so rare that one is asked."""

from __future__ import annotations

from typing import Any

import pyoxigraph as ox
import pytest
from hypothesis import given
from hypothesis import settings as searching

from guardbook import settings
from guardbook.completeness.structure import structure_faults
from guardbook.errors import Fault
from guardbook.records.base import Record
from guardbook.records.mapping import to_quads
from guardbook.records.values import XSD
from tests.completeness.situations import STRIP, everything, placing, position, quads, strip
from tests.records.strategies import records

RDF_TYPE = ox.NamedNode("http://www.w3.org/1999/02/22-rdf-syntax-ns#type")


def said(field: str, value: ox.NamedNode | ox.Literal, model: str = "Fragment") -> list[ox.Quad]:
    subject = ox.NamedNode(STRIP)
    return [
        ox.Quad(subject, RDF_TYPE, ox.NamedNode(settings.NAMESPACE + model)),
        ox.Quad(subject, ox.NamedNode(settings.NAMESPACE + field), value),
    ]


def decimal(text: str) -> ox.Literal:
    return ox.Literal(text, datatype=ox.NamedNode(XSD + "decimal"))


def the_fault(statements: list[ox.Quad]) -> Fault:
    (fault,) = structure_faults(statements)
    return fault


def test_a_whole_situation_at_the_bench_has_no_fault() -> None:
    assert structure_faults(quads(*everything())) == ()


@given(record=records())
@searching(max_examples=60)
def test_what_the_models_take_the_shapes_take_too(record: Record) -> None:
    faults = [fault for fault in structure_faults(to_quads(record)) if not fault.doubt]
    # only the shapes look whether a part of the record that is named is there
    assert [fault for fault in faults if "a part of this record" not in fault.expected] == []


def test_a_negative_length_is_a_fault_that_names_field_and_value() -> None:
    fault = the_fault(said("height", decimal("-4.0")))
    assert not fault.doubt
    assert fault.found == "-4.0"
    assert fault.expected == "0 or more"
    assert fault.where.startswith("fragment/")
    assert fault.where.endswith(" height")


@pytest.mark.parametrize(
    ("field", "value", "asked"),
    [
        ("height", "3000", "Are these millimetres?"),
        ("width", "3000", "Are these millimetres?"),
        ("width", "0", "nothing is there"),
        ("thickness", "51", "Are these millimetres?"),
        ("linePitch", "183", "whole written space"),
    ],
)
def test_a_size_that_hardly_ever_occurs_is_asked_about(field: str, value: str, asked: str) -> None:
    fault = the_fault(quads(strip(**{field: value})))
    assert fault.doubt
    assert fault.found == value
    assert asked in str(fault)
    assert str(fault).startswith("Please confirm")


@pytest.mark.parametrize(("field", "value"), [("height", "1500"), ("width", "0.1"), ("thickness", "50")])
def test_a_size_at_the_edge_of_the_usual_is_taken_as_it_is(field: str, value: str) -> None:
    assert structure_faults(quads(strip(**{field: value}))) == ()


def test_a_place_far_outside_any_book_is_asked_about_for_the_position_it_is_in() -> None:
    far = placing(positions=[position(), position(x="21000")])
    fault = the_fault(quads(far))
    assert fault.doubt
    assert fault.where.endswith("#position-2 x")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("height", decimal("12x")),
        ("height", decimal("")),
        ("lines", ox.Literal("seven", datatype=ox.NamedNode(XSD + "integer"))),
        ("lines", ox.Literal("1e3", datatype=ox.NamedNode(XSD + "integer"))),
        ("dateMade", ox.Literal("soon", datatype=ox.NamedNode(XSD + "gYear"))),
        ("height", ox.Literal("wide", datatype=ox.NamedNode(XSD + "double"))),
    ],
)
def test_a_literal_that_cannot_be_read_is_one_fault_and_no_crash(field: str, value: ox.Literal) -> None:
    fault = the_fault(said(field, value))
    assert not fault.doubt
    assert fault.found == repr(value.value)
    assert fault.where.endswith(field)


@pytest.mark.parametrize(
    "value", [ox.Literal("abc"), ox.Literal("abc", language="ca"), ox.NamedNode(STRIP), decimal("1x")]
)
def test_a_value_of_the_wrong_kind_is_said_once_and_not_also_called_too_large(value: Any) -> None:
    assert len(structure_faults(said("height", value))) == 1


def test_all_faults_of_several_records_come_at_once_and_doubts_last() -> None:
    faults = structure_faults(
        [
            *quads(strip(height="3000"), placing(positions=[position(scale="40")])),
            *said("width", decimal("-1")),
            *said("animal", ox.Literal("goat")),
        ]
    )
    assert [fault.doubt for fault in faults] == [False, False, True, True]


def test_a_second_value_where_one_belongs_is_a_fault() -> None:
    faults = structure_faults([*quads(strip(height="40")), *said("height", decimal("41"))])
    assert [(fault.expected, fault.doubt) for fault in faults] == [("1 or fewer values", False)]


def test_a_trace_in_a_series_that_is_none_is_a_fault() -> None:
    broken = strip(features=[{"featureKind": "fold", "inSeries": "#series-9"}])
    fault = the_fault(quads(broken))
    assert fault.where.endswith("#feature-1 inSeries")
    assert "Series" in fault.expected
