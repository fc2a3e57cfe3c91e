"""What the CRM view says of some records, in so many words."""

from __future__ import annotations

import io
from typing import Any

import pyoxigraph as ox

from guardbook.actions.export_records import export_records
from guardbook.catalogue.catalogue import Catalogue
from guardbook.exports.alignment import CRM
from guardbook.exports.crm import to_crm
from guardbook.records.documents import from_document
from tests.catalogue.shelf import made, placing, save, strip, volume


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
        (span, "P82a_begin_of_the_begin", "1080-01-01T00:00:00"),
        (span, "P82b_end_of_the_end", "1219-12-31T23:59:59"),
        (span, "http://www.w3.org/2000/01/rdf-schema#label", "11XX~"),
        (span, "P3_has_note", "11XX~ is taken to reach 20 years further on either side"),
    } <= found


def test_a_date_that_is_sure_keeps_its_limits_and_an_open_end_stays_open() -> None:
    span = "7K3QM2-J#crm-dateMade"

    def told(date: str) -> set[tuple[str, str]]:
        found = said({"type": "Fragment", "id": "fragment/7K3QM2-J", "dateMade": date})
        return {(two[:4], three) for one, two, three in found if one == span and two.startswith("P")}

    assert told("1543") == {("P82a", "1543-01-01T00:00:00"), ("P82b", "1543-12-31T23:59:59")}
    assert ("P82a", "1523-01-01T00:00:00") in told("1543~/..")
    assert "P82b" not in {two for two, _ in told("1543~/..")}
    assert ("P82b", "1900-03-01T23:59:59") in told("1880-02-29~"), "1900 had no leap day"


def test_the_languages_of_a_text_its_animal_and_the_place_of_a_hole_are_said() -> None:
    found = said(
        {
            "type": "Fragment",
            "id": "fragment/7K3QM2-J",
            "animal": "calf",
            "textLanguages": ["la", "ca"],
            "features": [
                {"id": "#feature-1", "featureKind": "sewing-hole", "x": "12.50", "y": "30"},
                {"id": "#feature-2", "featureKind": "fold", "x": "0", "y": "30", "toX": "80", "toY": "31"},
                {"id": "#feature-3", "featureKind": "fold", "x": "0"},
            ],
        }
    )
    place, line = "7K3QM2-J#feature-1.crm-E53", "7K3QM2-J#feature-2.crm-E53"
    assert {
        ("7K3QM2-J", "P3_has_note", "animal: calf"),
        ("7K3QM2-J", "P128_carries", "7K3QM2-J#crm-E33"),
        ("7K3QM2-J#crm-E33", "P72_has_language", "7K3QM2-J#crm-textLanguages-la"),
        ("7K3QM2-J#crm-E33", "P72_has_language", "7K3QM2-J#crm-textLanguages-ca"),
        ("7K3QM2-J#feature-1", "P53_has_former_or_current_location", place),
        (place, "P157_is_at_rest_relative_to", "7K3QM2-J"),
        (place, "P168_place_is_defined_by", "POINT (12.50 30)"),
        (line, "P168_place_is_defined_by", "LINESTRING (0 30, 80 31)"),
    } <= found
    assert not [one for one, _, _ in found if one.startswith("7K3QM2-J#feature-3.")]


def test_a_piece_goes_with_its_placing_and_its_separation(catalogue: Catalogue) -> None:
    put, gone = placing(strip(), volume()), made("separation", "gone", piece=strip().id, host=volume().id)
    save(catalogue.access(), strip(), volume(), put, gone)
    output = io.BytesIO()
    export_records(catalogue.access(), [strip().id], "crm", output)
    told = {str(triple.subject.value) for triple in ox.parse(output.getvalue(), format=ox.RdfFormat.TURTLE)}
    assert {strip().id, put.id, gone.id} <= told
    assert volume().id not in told


def test_a_sold_piece_changed_owner_and_custody() -> None:
    found = said({"type": "Move", "id": "move/7K3QM2-J", "object": "fragment/7K3QM2-J", "moveKind": "sold"})
    assert {one[1] for one in found} >= {"P24_transferred_title_of", "P30_transferred_custody_of"}
    assert "P25_moved" not in {one[1] for one in found}


def test_private_words_have_no_path_into_the_view() -> None:
    document = {"type": "Fragment", "privateNote": "in the safe", "boxLocation": "shelf 4", "valuation": "90"}
    text = " ".join(three for _, _, three in said(document))
    assert not any(word in text for word in ("safe", "shelf 4", "90"))
