"""Records to RDF and back."""

from __future__ import annotations

import random

import pyoxigraph as ox
import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.errors import InvalidRecord
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.kinds import KINDS
from guardbook.records.mapping import canonical, from_quads, parse_canonical, to_quads
from tests.records.strategies import records


@pytest.mark.parametrize("kind", sorted(KINDS))
@given(data=st.data())
def test_a_record_comes_back_from_rdf_as_it_went(kind: str, data: st.DataObject) -> None:
    record = data.draw(records(kind))
    assert from_quads(to_quads(record)) == record


@given(record=records())
def test_a_record_comes_back_from_the_ledger_with_the_digits_that_were_written(record: Record) -> None:
    body = canonical(to_quads(record))
    assert canonical(to_quads(from_quads(parse_canonical(body)))) == body


@given(record=records(), seed=st.integers(0, 1000))
def test_any_order_of_triples_gives_the_same_canonical_form(record: Record, seed: int) -> None:
    shuffled = to_quads(record)
    random.Random(seed).shuffle(shuffled)
    assert canonical(shuffled) == canonical(to_quads(record))


@given(record=records())
def test_no_blank_node_is_ever_made(record: Record) -> None:
    assert not any(
        isinstance(node, ox.BlankNode) for quad in to_quads(record) for node in (quad.subject, quad.object)
    )


def test_a_measurement_keeps_its_last_zero() -> None:
    piece = Fragment.model_validate({"id": "fragment/7K3QM2-J", "height": "45.50"})
    assert '"45.50"' in canonical(to_quads(piece))


def test_an_unknown_property_is_named_with_those_that_exist() -> None:
    quads = to_quads(Fragment(id="fragment/7K3QM2-J"))
    strange = ox.Quad(
        quads[0].subject,
        ox.NamedNode("https://w3id.org/guardbook/ns#hight"),
        ox.Literal("4"),
        quads[0].graph_name,
    )
    with pytest.raises(InvalidRecord) as caught:
        from_quads([*quads, strange])
    assert "hight" in caught.value.faults[0].where
    assert "height" in caught.value.faults[0].mend


def test_statements_that_hang_in_the_air_are_reported() -> None:
    quads = to_quads(Fragment(id="fragment/7K3QM2-J"))
    loose = ox.Quad(
        ox.NamedNode("https://guardbook.example/fragment/7K3QM2-J#hole-9"),
        ox.NamedNode("https://w3id.org/guardbook/ns#x"),
        ox.Literal("4.0", datatype=ox.NamedNode("http://www.w3.org/2001/XMLSchema#decimal")),
    )
    with pytest.raises(InvalidRecord) as caught:
        from_quads([*quads, loose])
    assert "hole-9" in caught.value.faults[0].where
