"""Records to JSON and back."""

from __future__ import annotations

import json
from collections import defaultdict

import pytest
from hypothesis import given

from guardbook.errors import InvalidRecord
from guardbook.records.base import Record
from guardbook.records.documents import from_document, to_document
from guardbook.records.fields import all_models, fields_of
from tests.records.strategies import records


@given(record=records())
def test_a_record_comes_back_from_json_as_it_went(record: Record) -> None:
    assert from_document(json.loads(json.dumps(to_document(record)))) == record


def test_a_field_means_the_same_in_every_record_that_has_it() -> None:
    kinds: dict[str, set[str]] = defaultdict(set)
    for model in all_models():
        for field in fields_of(model):
            kinds[field.json_name].add(f"{type(field.marker).__name__} {getattr(field.marker, 'name', '')}")
            if field.part:
                kinds[field.json_name].add(field.part.__name__)
    assert {name: found for name, found in kinds.items() if len(found) > 1 and "NoneType " not in found} == {}


def test_parts_without_a_name_are_named_in_order() -> None:
    record = from_document(
        {
            "type": "Fragment",
            "features": [{"featureKind": "sewing-hole"}, {"id": "#feature-1", "featureKind": "fold"}],
        }
    )
    assert [part["id"].partition("#")[2] for part in to_document(record)["features"]] == [
        "feature-1",
        "feature-2",
    ]


@pytest.mark.parametrize(
    ("document", "where", "word"),
    [
        ({"type": "Fragment", "height": -4}, "height", "0 or more"),
        ({"type": "Fragment", "height": "4,5"}, "height", "decimal point"),
        ({"type": "Fragment", "hight": 4}, "hight", "no such field"),
        ({"type": "Fragment", "material": "parchement"}, "material", "parchment"),
        ({"type": "Fragment", "dateMade": "1510/1505"}, "dateMade", "forwards"),
        ({"type": "Fragment", "id": "fragment/7K3QM2-D"}, "the record", "7K3QM2 would end in J"),
        ({"type": "Fragment", "id": "https://elsewhere.example/fragment/7K3QM2-J"}, "the record", "under"),
        ({"type": "Placing", "piece": "host/7K3QM2-J", "host": "host/7K3QM2-J"}, "piece", "fragment/"),
        ({"type": "Placing", "host": "host/7K3QM2-J"}, "piece", "required"),
        ({"type": "Fragmment"}, "type", "Fragment"),
        ({"type": "Fragment", "note": "a\x00b"}, "note", "U+0000"),
        ({"type": "Fragment", "outline": "POLYGON ((0 0, 1 1))"}, "outline", "WKT"),
        ([], "the document", "JSON object"),
    ],
)
def test_a_fault_names_the_field_and_the_mend(document: object, where: str, word: str) -> None:
    with pytest.raises(InvalidRecord) as caught:
        from_document(document)
    assert caught.value.faults[0].where == where
    assert word in str(caught.value.faults[0])


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(InvalidRecord) as caught:
        from_document(
            {"type": "Fragment", "height": -4, "width": "x", "features": [{"featureKind": "hole?"}]}
        )
    assert {fault.where for fault in caught.value.faults} == {"height", "width", "features[0].featureKind"}
