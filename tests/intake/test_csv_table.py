"""CSV files as they come."""

from __future__ import annotations

import pytest

from guardbook.errors import UnreadableFile
from guardbook.intake.drafts import Intake
from guardbook.intake.read import read_file
from tests.intake.files import csv_file, row_of

ROWS = (["Workshop number", "Condition", "Height"], ["W-1", "tacada, però sencera", "45,5"])
VALUES = {"workshopNumber": "W-1", "condition": "tacada, però sencera", "height": "45.5"}


def read(data: bytes) -> Intake:
    return read_file(data, "pieces.csv")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_file_is_read_whatever_stands_between_its_cells(delimiter: str, encoding: str) -> None:
    intake = read(csv_file(*ROWS, delimiter=delimiter, encoding=encoding))
    assert (row_of(intake).values, intake.faults, intake.notes) == (VALUES, (), ())


@pytest.mark.parametrize(("encoding", "mark"), [("latin-1", ""), ("cp1252", " “ok”")])
def test_a_file_in_an_older_encoding_is_read_and_a_word_of_it_shown(encoding: str, mark: str) -> None:
    rows = (ROWS[0], ["W-1", "tacada, però sencera" + mark, "45,5"])
    intake = read(csv_file(*rows, encoding=encoding))
    assert row_of(intake).values["condition"] == "tacada, però sencera" + mark
    assert "'però' in line 2" in intake.notes[0]


def test_the_line_that_names_the_delimiter_is_understood() -> None:
    intake = read(b"sep=;\r\n" + csv_file(*ROWS))
    assert row_of(intake).values == VALUES
    assert row_of(intake).where == "pieces.csv, row 3"


def test_cells_may_hold_line_breaks() -> None:
    intake = read(csv_file(ROWS[0], ["W-1", "first\nsecond", "45,5"]))
    assert row_of(intake).values["condition"] == "first\nsecond"


def test_a_decimal_comma_that_splits_a_cell_is_named() -> None:
    (fault,) = read(b"Workshop number,Height\nW-1,45,5\n").faults
    assert fault.where == "pieces.csv, row 2, column C"
    assert "double quotes" in fault.mend


def test_a_quote_that_is_never_closed_is_named_with_its_line() -> None:
    with pytest.raises(UnreadableFile) as caught:
        read(b'Workshop number,Note\nW-1,"never closed\nW-2,more\n')
    assert caught.value.faults[0].where.startswith("pieces.csv, line ")
    assert "double quote" in caught.value.faults[0].mend


def test_rows_are_numbered_as_the_spreadsheet_shows_them() -> None:
    intake = read(csv_file(ROWS[0], ["W-1", "", "tall"], ["", "", ""], ["W-2", "", "taller"]))
    assert [fault.where for fault in intake.faults] == [
        "pieces.csv, row 2, column C, Height",
        "pieces.csv, row 4, column C, Height",
    ]


@pytest.mark.parametrize("data", [b"", b"\n\n", b"Workshop number,Height\n"])
def test_a_file_without_a_row_is_a_fault(data: bytes) -> None:
    assert [fault.found for fault in read(data).faults] == ["nothing"]


def test_progress_is_told_row_by_row() -> None:
    told: list[tuple[int, int]] = []
    rows = [ROWS[0], *([f"W-{number}", "", "45"] for number in range(20))]
    read_file(csv_file(*rows), "pieces.csv", progress=lambda done, total: told.append((done, total)))
    assert told[-1] == (21, 21)
    assert [done for done, _ in told] == list(range(2, 22))
