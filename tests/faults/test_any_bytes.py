"""Whatever bytes a file holds, they are read or refused in our own words; nothing else ever happens."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.errors import GuardbookError
from guardbook.intake.columns import columns_of
from guardbook.intake.drafts import Intake
from guardbook.intake.read import ENDINGS, read_file
from guardbook.intake.words import sheet_kinds
from tests.intake.files import csv_file, workbook

ROWS = [["Workshop number", "Height", "Date made"], ["W-1", 45.5, "1510~"], ["W-2", "=1+1", "2024"]]
WORKBOOK = workbook({"pieces": ROWS}, lambda book: book["pieces"].merge_cells("C2:C3"))
CELLS = st.text(alphabet="0123456789 .,;:|x-–/~?'\"[]#=@abcXVI½µm\n", max_size=20)


def outcome(data: bytes, name: str, kind: str | None = None) -> Intake | str:
    try:
        return read_file(data, name, sheet_kind=kind)
    except GuardbookError as error:
        return error.message


def check_read_or_refused(found: Intake | str, name: str) -> None:
    assert name in found if isinstance(found, str) else found.drafts or found.faults


@pytest.mark.parametrize("ending", ENDINGS)
@given(data=st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes_are_read_or_refused(ending: str, data: bytes) -> None:
    check_read_or_refused(outcome(data, f"any.{ending}"), f"any.{ending}")


@given(at=st.integers(0, len(WORKBOOK) - 1), byte=st.integers(0, 255), end=st.integers(0, len(WORKBOOK)))
def test_a_damaged_workbook_is_read_or_refused(at: int, byte: int, end: int) -> None:
    damaged = WORKBOOK[:at] + bytes([byte]) + WORKBOOK[at + 1 :]
    for data in (damaged, WORKBOOK[:end]):
        check_read_or_refused(outcome(data, "list.xlsx"), "list.xlsx")


@given(kind=st.sampled_from(sheet_kinds()), data=st.data())
def test_any_text_in_any_cell_is_read_or_refused(kind: str, data: st.DataObject) -> None:
    columns = columns_of(kind)
    some = data.draw(st.lists(st.sampled_from(columns), min_size=1, max_size=6, unique=True))
    row = [data.draw(CELLS) for _ in some]
    rows = [[f"{column.kind}.{column.name}" for column in some], row]
    found = outcome(csv_file(*rows), "any.csv", kind)
    check_read_or_refused(found, "any.csv")
    if isinstance(found, Intake):
        assert all(fault.where.startswith("any.csv") and fault.expected for fault in found.faults)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                ["id", "type", "@context", "@id", "features", "height", "records", "revision", "x"]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(document=JSON)
def test_any_json_is_read_or_refused(document: object) -> None:
    for name in ("any.json", "any.jsonld"):
        check_read_or_refused(outcome(json.dumps(document).encode(), name), name)
