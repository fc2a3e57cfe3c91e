"""Saving records that come as JSON."""

import json
from typing import Any

import pytest

from guardbook.actions.merge_record import merge_patch
from guardbook.actions.save_documents import patch_document, put_document, save_documents
from guardbook.catalogue.access import Access
from guardbook.errors import InvalidRecord, RevisionRequired, UnreadableFile, WrongUse
from guardbook.records.base import Record
from guardbook.records.documents import to_document
from tests.binding.bench import iri, piece, volume

BY: dict[str, Any] = {"who": "Mira", "what_for": "to have it"}
STRIP = piece("Strip")


def as_text(value: Any) -> bytes:
    return json.dumps(value).encode()


def document(record: Record, **changes: Any) -> dict[str, Any]:
    return {**to_document(record), **changes}


def test_a_record_without_an_identifier_is_given_one(workshop: Access) -> None:
    (saved,) = save_documents(workshop, b'{"type": "Fragment", "title": "A strip"}', **BY)
    assert workshop.record(saved.iri).record.title == "A strip"


def test_records_of_a_list_may_name_each_other(workshop: Access) -> None:
    placed = {"type": "Placing", "piece": STRIP.id, "host": iri("host", "Book")}
    body = [placed, document(STRIP), document(volume("Book", "1510"))]
    assert len(save_documents(workshop, as_text(body), **BY)) == 3


def test_a_list_with_one_fault_is_not_saved_at_all(workshop: Access) -> None:
    body = [document(STRIP), {"type": "Fragment", "height": "tall"}, {"type": "Fragmnt"}]
    with pytest.raises(InvalidRecord) as refusal:
        save_documents(workshop, as_text(body), **BY)
    places = [fault.where for fault in refusal.value.faults]
    assert places == ["the body, records[1].height", "the body, records[2].type"]
    assert not list(workshop.iris())


def test_a_known_record_says_which_revision_it_started_from(workshop: Access) -> None:
    save_documents(workshop, as_text(document(STRIP)), **BY)
    with pytest.raises(RevisionRequired):
        save_documents(workshop, as_text(document(STRIP, note="new")), **BY)
    (saved,) = save_documents(workshop, as_text(document(STRIP, note="new", revision=1)), **BY)
    assert saved.number == 2


@pytest.mark.parametrize("body", [b"", b"{", b"[1", b"\xff\xfe\x00", b"[" * 100_000])
def test_what_is_no_json_is_refused_with_its_place(workshop: Access, body: bytes) -> None:
    with pytest.raises(UnreadableFile, match="the body"):
        save_documents(workshop, body, **BY)


@pytest.mark.parametrize("body", [b"[]", b'{"records": []}'])
def test_an_empty_list_is_refused(workshop: Access, body: bytes) -> None:
    with pytest.raises(WrongUse, match="no record in the body"):
        save_documents(workshop, body, **BY)


@pytest.mark.parametrize("body", [b"null", b"3", b'"strip"'])
def test_what_is_no_record_is_refused(workshop: Access, body: bytes) -> None:
    with pytest.raises(InvalidRecord):
        save_documents(workshop, body, **BY)


def test_a_document_is_put_where_its_address_says(workshop: Access) -> None:
    saved = put_document(workshop, STRIP.id, b'{"title": "A strip"}', started_from=None, **BY)
    assert (saved.iri, saved.number) == (STRIP.id, 1)


@pytest.mark.parametrize(
    "body",
    [{"id": iri("fragment", "Other"), "type": "Fragment"}, [], {"records": []}, 5],
)
def test_a_document_of_another_record_is_not_put(workshop: Access, body: Any) -> None:
    with pytest.raises(InvalidRecord):
        put_document(workshop, STRIP.id, as_text(body), started_from=None, **BY)


def test_a_patch_changes_some_fields_and_takes_others_away(workshop: Access) -> None:
    save_documents(workshop, as_text(document(STRIP, note="torn", textLanguages=["la"])), **BY)
    patch = b'{"note": null, "height": 12.50, "textLanguages": ["ca"]}'
    patch_document(workshop, STRIP.id, patch, started_from=1, **BY)
    body = to_document(workshop.record(STRIP.id).record)
    assert "note" not in body
    assert (body["height"], body["textLanguages"]) == ("12.50", ["ca"])


@pytest.mark.parametrize("patch", [{"id": iri("fragment", "Other")}, {"type": "Carrier"}, {"id": None}])
def test_a_patch_makes_no_other_record_of_it(workshop: Access, patch: Any) -> None:
    save_documents(workshop, as_text(document(STRIP)), **BY)
    with pytest.raises(InvalidRecord, match="cannot become another record"):
        patch_document(workshop, STRIP.id, as_text(patch), started_from=1, **BY)


def test_a_patch_is_an_object(workshop: Access) -> None:
    with pytest.raises(WrongUse, match="merge patch"):
        patch_document(workshop, STRIP.id, b"[]", started_from=1, **BY)


@pytest.mark.parametrize(
    ("target", "patch", "merged"),
    [
        ({"a": "b"}, {"a": "c"}, {"a": "c"}),
        ({"a": "b"}, {"b": "c"}, {"a": "b", "b": "c"}),
        ({"a": "b"}, {"a": None}, {}),
        ({"a": "b", "b": "c"}, {"a": None}, {"b": "c"}),
        ({"a": ["b"]}, {"a": "c"}, {"a": "c"}),
        ({"a": "c"}, {"a": ["b"]}, {"a": ["b"]}),
        ({"a": {"b": "c"}}, {"a": {"b": "d", "c": None}}, {"a": {"b": "d"}}),
        ({"a": [{"b": "c"}]}, {"a": [1]}, {"a": [1]}),
        (["a", "b"], ["c", "d"], ["c", "d"]),
        ({"a": "b"}, ["c"], ["c"]),
        ({"a": "foo"}, None, None),
        ({"a": "foo"}, "bar", "bar"),
        ({"e": None}, {"a": 1}, {"e": None, "a": 1}),
        ([1, 2], {"a": "b", "c": None}, {"a": "b"}),
        ({}, {"a": {"bb": {"ccc": None}}}, {"a": {"bb": {}}}),
    ],
)
def test_patches_merge_as_the_standard_shows(target: Any, patch: Any, merged: Any) -> None:
    """RFC 7396, appendix A, from memory."""
    assert merge_patch(target, patch) == merged
