"""Every statement of the CRM view against the domains and ranges of CIDOC CRM itself.

Source: CIDOC CRM 7.1.2 in RDFS (September 2022), as carried by npm `@vocabulary/crm` 1.0.5 (`crm.nq`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
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
from tests.outside.vocabularies import RDF_TYPE, Vocabulary, name_of, vocabulary, wrongly_said
from tests.records.strategies import records


@pytest.fixture
def crm(needs: Callable[[str], Path]) -> Vocabulary:
    return vocabulary(needs("node readers"), "crm")


def wrong(triples: Iterable[ox.Triple], crm: Vocabulary, outside: dict[str, str]) -> list[str]:
    """Give the statements that the CRM wants otherwise.

    `outside` gives the class of IRIs of other records by their kind.
    """

    def classes(iri: str) -> set[str]:
        return crm.all_above(CRM + outside.get(iri.split("/")[-2], "E1_CRM_Entity"))

    return wrongly_said(triples, crm, CRM, classes)


OUTSIDE = {KIND: alignment().classes[model.__name__][0] for KIND, model in KINDS.items() if KIND != "move"}


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_statement_keeps_to_the_domain_and_range_of_its_property(kind: str, crm: Vocabulary) -> None:
    @given(record=records(kind))
    @settings(max_examples=40)
    def check(record: Record) -> None:
        assert wrong(to_crm(record), crm, OUTSIDE) == []

    check()


def test_the_check_itself_finds_a_wrong_statement(crm: Vocabulary) -> None:
    strange = ox.Triple(
        ox.NamedNode("https://guardbook.example/agent/7K3QM2-J"),
        ox.NamedNode(CRM + "P110_augmented"),
        ox.NamedNode("https://guardbook.example/host/7K3QM2-J"),
    )
    assert wrong([strange], crm, OUTSIDE)


def test_every_class_of_the_alignment_is_one_of_the_crm(crm: Vocabulary) -> None:
    table = alignment()
    further = [name for values in table.terms.values() for names in values.values() for name in names]
    named = [name for names in table.classes.values() for name in names] + further
    assert [name for name in named if CRM + name not in crm.above] == []


def test_a_part_with_no_identity_before_is_both_removed_and_produced() -> None:
    """Source: CRM 7.1.2, scope note of E80: such a removal is also an instance of E12 Production."""
    event = from_document(
        {"type": "Separation", "piece": "fragment/7K3QM2-J", "host": "host/7K3QM2-J", "newIdentity": True}
    )
    said = {(triple.predicate.value.removeprefix(CRM), name_of(triple.object)) for triple in to_crm(event)}
    assert {(RDF_TYPE, CRM + "E80_Part_Removal"), (RDF_TYPE, CRM + "E12_Production")} <= said
    assert ("P113_removed", event.id.replace(event.short, "fragment/7K3QM2-J")) in said
    assert ("P108_has_produced", event.id.replace(event.short, "fragment/7K3QM2-J")) in said


@given(record=st.one_of(records("placing"), records("separation")))
@settings(max_examples=30)
def test_the_view_holds_no_blank_node(record: Record) -> None:
    assert all(not isinstance(triple.subject, ox.BlankNode) for triple in to_crm(record))
