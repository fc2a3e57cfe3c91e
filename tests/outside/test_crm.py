"""Every statement of the CRM view against the domains and ranges of CIDOC CRM itself.

Source: CIDOC CRM 7.1.2 in RDFS (September 2022), as carried by npm `@vocabulary/crm` 1.0.5 (`crm.nq`).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

import pyoxigraph as ox
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guardbook.exports.alignment import CRM, alignment
from guardbook.exports.crm import to_crm
from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.kinds import KINDS
from guardbook.records.mapping import RDF_TYPE
from tests.records.strategies import records

RDFS = "http://www.w3.org/2000/01/rdf-schema#"
LITERAL = RDFS + "Literal"


class Model:
    """The classes and properties of the CRM, from its own RDFS."""

    def __init__(self, path: Path) -> None:
        """Read the file."""
        self.above: dict[str, set[str]] = defaultdict(set)
        self.domain: dict[str, str] = {}
        self.range: dict[str, str] = {}
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.N_QUADS):
            if not isinstance(quad.object, ox.NamedNode) or not isinstance(quad.subject, ox.NamedNode):
                continue
            subject, value = quad.subject.value, quad.object.value
            match quad.predicate.value.removeprefix(RDFS):
                case "subClassOf":
                    self.above[subject].add(value)
                case "domain":
                    self.domain[subject] = value
                case "range":
                    self.range[subject] = value

    def all_above(self, name: str) -> set[str]:
        """Give a class and all those above it."""
        return {name}.union(*(self.all_above(higher) for higher in self.above[name]))


@cache
def model(path: Path) -> Model:
    return Model(path / "@vocabulary" / "crm" / "crm.nq")


@pytest.fixture
def crm(needs: Callable[[str], Path]) -> Model:
    return model(needs("node readers"))


def iri(node: object) -> str:
    return node.value if isinstance(node, ox.NamedNode) else ""


def wrong(triples: Iterable[ox.Triple], crm: Model, outside: dict[str, str]) -> list[str]:
    """Give the statements whose subject or object is not of the class the CRM wants.

    `outside` gives the class of IRIs of other records by their kind.
    """
    listed = list(triples)
    types: dict[str, set[str]] = defaultdict(set)
    for triple in listed:
        if triple.predicate == RDF_TYPE:
            types[iri(triple.subject)] |= crm.all_above(iri(triple.object))

    def classes(node: object) -> set[str]:
        if not isinstance(node, ox.NamedNode):
            return {LITERAL}
        kind = node.value.split("/")[-2]
        return types.get(node.value) or crm.all_above(CRM + outside.get(kind, "E1_CRM_Entity"))

    found = []
    for triple in listed:
        name = triple.predicate.value
        if name.startswith(CRM):
            if name not in crm.domain:
                found.append(f"{name} is no property of the CRM")
            elif crm.domain[name] not in classes(triple.subject):
                found.append(f"domain of {triple}")
            elif crm.range[name] not in classes(triple.object):
                found.append(f"range of {triple}")
    return found


OUTSIDE = {KIND: alignment().classes[model.__name__][0] for KIND, model in KINDS.items() if KIND != "move"}


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_statement_keeps_to_the_domain_and_range_of_its_property(kind: str, crm: Model) -> None:
    @given(record=records(kind))
    @settings(max_examples=40)
    def check(record: Record) -> None:
        assert wrong(to_crm(record), crm, OUTSIDE) == []

    check()


def test_the_check_itself_finds_a_wrong_statement(crm: Model) -> None:
    strange = ox.Triple(
        ox.NamedNode("https://guardbook.example/agent/7K3QM2-J"),
        ox.NamedNode(CRM + "P110_augmented"),
        ox.NamedNode("https://guardbook.example/host/7K3QM2-J"),
    )
    assert wrong([strange], crm, OUTSIDE)


def test_every_class_of_the_alignment_is_one_of_the_crm(crm: Model) -> None:
    table = alignment()
    further = [name for values in table.terms.values() for names in values.values() for name in names]
    named = [name for names in table.classes.values() for name in names] + further
    assert [name for name in named if CRM + name not in crm.above] == []


def test_a_part_with_no_identity_before_is_both_removed_and_produced() -> None:
    """Source: CRM 7.1.2, scope note of E80: such a removal is also an instance of E12 Production."""
    event = from_document(
        {"type": "Separation", "piece": "fragment/7K3QM2-J", "host": "host/7K3QM2-J", "newIdentity": True}
    )
    said = {(triple.predicate.value.removeprefix(CRM), iri(triple.object)) for triple in to_crm(event)}
    assert {(RDF_TYPE.value, CRM + "E80_Part_Removal"), (RDF_TYPE.value, CRM + "E12_Production")} <= said
    assert ("P113_removed", event.id.replace(event.short, "fragment/7K3QM2-J")) in said
    assert ("P108_has_produced", event.id.replace(event.short, "fragment/7K3QM2-J")) in said


@given(record=st.one_of(records("placing"), records("separation")))
@settings(max_examples=30)
def test_the_view_holds_no_blank_node(record: Record) -> None:
    assert all(not isinstance(triple.subject, ox.BlankNode) for triple in to_crm(record))
