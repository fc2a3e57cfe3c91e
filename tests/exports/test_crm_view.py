"""What the CRM view says of some records, in so many words."""

from __future__ import annotations

from typing import Any

from guardbook.exports.alignment import CRM
from guardbook.exports.crm import to_crm
from guardbook.records.documents import from_document


def said(document: dict[str, Any]) -> set[tuple[str, str, str]]:
    """Give the triples with short names: after the last '/' or '#'."""
    ends = (
        tuple(str(getattr(node, "value", node)).removeprefix(CRM) for node in triple)
        for triple in to_crm(from_document(document))
    )
    return {(one.rpartition("/")[2], two, three.rpartition("/")[2]) for one, two, three in ends}


def test_a_length_is_a_dimension_in_millimetres_with_the_digits_that_were_written() -> None:
    found = said({"type": "Fragment", "id": "fragment/7K3QM2-J", "height": "45.50"})
    node = "7K3QM2-J#crm-height"
    assert {
        ("7K3QM2-J", "P43_has_dimension", node),
        (node, "P90_has_value", "45.50"),
        (node, "P91_has_unit", "millimetre"),
    } <= found


def test_a_date_of_making_is_the_time_span_of_a_production() -> None:
    found = said({"type": "Fragment", "id": "fragment/7K3QM2-J", "dateMade": "11XX~"})
    span = "7K3QM2-J#crm-dateMade"
    assert {
        ("7K3QM2-J", "P108i_was_produced_by", "7K3QM2-J#crm-E12"),
        ("7K3QM2-J#crm-E12", "P4_has_time-span", span),
        (span, "P82a_begin_of_the_begin", "1100-01-01T00:00:00"),
        (span, "P82b_end_of_the_end", "1199-12-31T23:59:59"),
    } <= found


def test_a_sold_piece_changed_owner_and_custody() -> None:
    found = said({"type": "Move", "id": "move/7K3QM2-J", "object": "fragment/7K3QM2-J", "moveKind": "sold"})
    assert {one[1] for one in found} >= {"P24_transferred_title_of", "P30_transferred_custody_of"}
    assert "P25_moved" not in {one[1] for one in found}


def test_private_words_have_no_path_into_the_view() -> None:
    document = {"type": "Fragment", "privateNote": "in the safe", "boxLocation": "shelf 4", "valuation": "90"}
    text = " ".join(three for _, _, three in said(document))
    assert not any(word in text for word in ("safe", "shelf 4", "90"))
