"""Records in JSON."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given

from guardbook.errors import UnreadableFile
from guardbook.intake.drafts import Intake, WholeDraft
from guardbook.intake.read import read_file
from guardbook.records.base import Record
from guardbook.records.context import context
from guardbook.records.documents import to_document
from guardbook.records.fragment import Fragment
from tests.intake.files import places, records_of
from tests.records.strategies import records

PIECE = {"id": "fragment/7K3QM2-J", "type": "Fragment", "height": "45.50"}


def read(document: Any, name: str = "records.json") -> Intake:
    text = document if isinstance(document, str) else json.dumps(document)
    return read_file(text.encode(), name)


@given(record=records())
def test_a_record_comes_back_from_a_file_as_it_went(record: Record) -> None:
    intake = read(to_document(record))
    assert (records_of(intake), intake.faults) == ([record], ())


@pytest.mark.parametrize(
    "document",
    [PIECE, [PIECE], {"records": [PIECE]}, {"@graph": [PIECE]}, {**PIECE, "@context": context()}],
)
def test_one_record_or_many_are_read(document: Any) -> None:
    (record,) = records_of(read(document))
    assert record.id.endswith("fragment/7K3QM2-J")


def test_numbers_keep_their_digits() -> None:
    (record,) = records_of(read('{"type": "Fragment", "height": 45.50}'))
    assert isinstance(record, Fragment)
    assert str(record.height) == "45.50"
    assert record.height == Decimal("45.5")


def test_the_revision_a_document_started_from_is_kept_beside_it() -> None:
    (draft,) = read({**PIECE, "revision": 3}).drafts
    assert isinstance(draft, WholeDraft)
    assert draft.revision == 3


@pytest.mark.parametrize(
    ("document", "place", "says"),
    [
        ({**PIECE, "heigth": 1}, "heigth", "Did you mean height?"),
        (
            [PIECE, {**PIECE, "features": [{"knd": 1}]}],
            "records[1].features[0].knd",
            "Known: featureKind",
        ),
        ('{"type": "Fragment", "note": "a", "note": "b"}', "note", "Keep one"),
        ({**PIECE, "height": "tall"}, "height", "number with a decimal point"),
        ({**PIECE, "revision": "x"}, "revision", "whole number of the revision"),
        ([[1]], "records[0]", "JSON object"),
        ({"type": "Fragmint"}, "type", "one of Fragment"),
        ({"records": [], "more": 1}, "more", "nothing beside 'records'"),
        ('{"type": "Fragment", "height": NaN}', "height", "number with a decimal point"),
        ('{"type": "Fragment", "height": 1e999999999}', "height", "number with a decimal point"),
        ('{"type": "Fragment", "lines": ' + "9" * 9999 + "}", "lines", "whole number"),
    ],
)
def test_what_is_wrong_is_named_with_its_path(document: Any, place: str, says: str) -> None:
    intake = read(document)
    assert place in places(intake)
    assert says in " ".join(map(str, intake.faults))


def test_all_faults_of_all_records_are_given_at_once() -> None:
    intake = read([{**PIECE, "heigth": 1, "width": "x"}, {**PIECE, "material": "papr"}])
    assert places(intake) == ["records[0].heigth", "records[0].width", "records[1].material"]


def test_a_syntax_error_names_line_and_column() -> None:
    with pytest.raises(UnreadableFile) as caught:
        read('{"type": "Fragment",\n "height" 45}')
    assert caught.value.faults[0].where == "records.json, line 2, column 11"


def test_text_in_another_encoding_names_its_line() -> None:
    with pytest.raises(UnreadableFile) as caught:
        read_file('{"type": "Fragment",\n "note": "però"}'.encode("latin-1"), "records.json")
    assert caught.value.faults[0].where == "records.json, line 2"


@pytest.mark.parametrize("levels", [100, 5_000_000])
def test_nesting_that_no_record_has_is_refused(levels: int) -> None:
    with pytest.raises(UnreadableFile, match="cannot be read as JSON") as caught:
        read("[" * levels + "]" * levels)
    assert "at most 40 levels" in caught.value.faults[0].expected


def test_a_long_list_of_nonsense_is_left_off_in_the_middle() -> None:
    intake = read([1] * 100_000)
    assert len(intake.faults) < 3000
    assert "was read to records[2000] only" in intake.notes[0]
