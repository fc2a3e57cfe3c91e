"""Records in RDF, in every form that people hand in."""

from __future__ import annotations

import random
import socket
from collections.abc import Callable

import pyoxigraph as ox
import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook import settings
from guardbook.errors import UnreadableFile
from guardbook.intake.drafts import Intake, WholeDraft
from guardbook.intake.read import read_file
from guardbook.intake.triples import FORMATS
from guardbook.records.base import Record
from guardbook.records.documents import context_address
from guardbook.records.fragment import Fragment
from guardbook.records.mapping import to_quads
from tests.intake.files import records_of
from tests.records.strategies import records

PREFIXES = f"""@prefix gb: <{settings.NAMESPACE}> .
@prefix feature: <{settings.TERMS}feature/> .
"""
PIECE = "fragment/7K3QM2-J"


def read(text: str, name: str = "records.ttl") -> Intake:
    return read_file((PREFIXES + text).encode(), name)


def by_id(record: Record) -> str:
    return record.id


def written(quads: list[ox.Quad], form: ox.RdfFormat) -> bytes:
    data = ox.serialize(quads if form.supports_datasets else [quad.triple for quad in quads], format=form)
    assert data is not None
    return data


def piece_of(intake: Intake) -> Fragment:
    (record,) = records_of(intake)
    assert isinstance(record, Fragment)
    return record


@pytest.mark.parametrize("ending", ["ttl", "trig", "nt", "nq", "rdf"])
@given(record=records())
def test_a_record_comes_back_from_every_form_as_it_went(ending: str, record: Record) -> None:
    intake = read_file(written(to_quads(record), FORMATS[ending]), f"records.{ending}")
    assert (records_of(intake), intake.faults, intake.notes) == ([record], (), ())


@given(some=st.lists(records(), min_size=2, max_size=3, unique_by=by_id), shuffle=st.randoms())
def test_triples_of_several_records_are_sorted_by_record(some: list[Record], shuffle: random.Random) -> None:
    quads = [quad for record in some for quad in to_quads(record)]
    shuffle.shuffle(quads)
    intake = read_file(written(quads, ox.RdfFormat.N_TRIPLES), "records.nt")
    assert sorted(records_of(intake), key=by_id) == sorted(some, key=by_id)


def test_relative_addresses_stand_under_the_base_of_this_catalogue() -> None:
    record = piece_of(read(f"<{PIECE}> a gb:Fragment ; gb:height 45.50 ."))
    assert record.id == settings.current().base + PIECE
    assert str(record.height) == "45.50"


def test_the_kind_in_the_address_says_the_type_where_none_is_stated() -> None:
    assert piece_of(read(f"<{PIECE}> gb:height 45.5 .")).kind == "fragment"


def test_blank_nodes_are_named_after_the_property_that_leads_to_them() -> None:
    intake = read(
        f"<{PIECE}> a gb:Fragment ; "
        "gb:features [ gb:featureKind feature:fold ], [ gb:featureKind feature:stain ] ."
    )
    assert [(part.id, part.feature_kind) for part in piece_of(intake).features] == [
        ("#feature-1", "fold"),
        ("#feature-2", "stain"),
    ]
    assert "Blank nodes were given names (2 times)" in intake.notes[0]


def test_a_blank_node_takes_no_name_that_is_used_already() -> None:
    intake = read(
        f"<{PIECE}> gb:features <{PIECE}#feature-1>, [ gb:featureKind feature:stain ] . "
        f"<{PIECE}#feature-1> gb:featureKind feature:fold ."
    )
    assert {part.id for part in piece_of(intake).features} == {"#feature-1", "#feature-2"}


def test_the_revision_a_record_started_from_is_taken_out() -> None:
    (draft,) = read(f"<{PIECE}> a gb:Fragment ; gb:revision 4 .").drafts
    assert isinstance(draft, WholeDraft)
    assert draft.revision == 4


@pytest.mark.parametrize(
    ("text", "found", "expected"),
    [
        ("[] a gb:Fragment .", "a blank node with type", "that a record refers to"),
        (
            "_:a gb:features _:b . _:b gb:features _:a .",
            "a blank node with features",
            "that a record refers to",
        ),
        ("<http://elsewhere.example/x> gb:height 3 .", "<http://elsewhere.example/x>", "under https://"),
        (f"<{PIECE}> gb:keeper <http://elsewhere.example/x> .", "elsewhere", "an IRI under https://"),
        (f"<{PIECE}> gb:features ( [ gb:x 1 ] ) .", "an RDF list", "once for each value"),
        (f"<{PIECE}> gb:height 'tall' .", "tall", "a literal of type"),
        (f"<{PIECE}> gb:revision 'new' .", "new", "whole number of the revision"),
        (f"<{PIECE}> gb:width 1 {{| gb:note 'x' |}} .", "a triple within a triple", "plain triples"),
        (
            f"<{PIECE}> gb:features _:a . <fragment/M4T9QK-W> gb:features _:a .",
            "a blank node of another record",
            "a part of its own",
        ),
    ],
)
def test_what_no_record_can_hold_is_named_with_the_file(text: str, found: str, expected: str) -> None:
    faults = read(text).faults
    assert [str(fault) for fault in faults if found in fault.found and expected in fault.expected]
    assert all(fault.where.startswith("records.ttl") for fault in faults)


def test_a_syntax_error_names_file_line_and_column() -> None:
    with pytest.raises(UnreadableFile) as caught:
        read(f"<{PIECE}> a gb:Fragment\n  gb:height 45.5 .")
    assert caught.value.faults[0].where == "records.ttl, line 4, column 3"
    assert caught.value.faults[0].found == "A dot is expected at the end of statements"


def test_json_ld_with_a_context_of_its_own_is_read() -> None:
    text = f"""{{"@context": {{"haut": {{"@id": "{settings.NAMESPACE}height",
        "@type": "http://www.w3.org/2001/XMLSchema#decimal"}}}},
        "@id": "{settings.current().base}{PIECE}", "haut": "45.50"}}"""
    record = piece_of(read_file(text.encode(), "records.json"))
    assert str(record.height) == "45.50"


def test_our_own_context_beside_another_is_not_fetched() -> None:
    text = f"""{{"@context": ["{context_address()}", {{"haut":
        {{"@id": "height", "@type": "http://www.w3.org/2001/XMLSchema#decimal"}}}}], "type": "Fragment",
        "id": "{settings.current().base}{PIECE}", "haut": "45.50"}}"""
    record = piece_of(read_file(text.encode(), "records.jsonld"))
    assert str(record.height) == "45.50"


def test_a_context_elsewhere_is_never_fetched(network_refused: Callable[[], int]) -> None:
    text = f'{{"@context": "http://elsewhere.example/context.jsonld", "@id": "{PIECE}", "haut": 1}}'
    with pytest.raises(UnreadableFile) as caught:
        read_file(text.encode(), "records.jsonld")
    assert "loaded from the network" in caught.value.faults[0].found
    assert network_refused() == 0


@pytest.fixture
def network_refused(monkeypatch: pytest.MonkeyPatch) -> Callable[[], int]:
    """Refuse every connection, and tell how many were tried."""
    tried: list[object] = []

    def refuse(*words: object, **_: object) -> None:
        tried.append(words)
        raise OSError("no network here")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    return lambda: len(tried)
