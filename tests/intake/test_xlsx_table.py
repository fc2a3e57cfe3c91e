"""Workbooks: several sheets, formulas, merged cells, hidden sheets."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable

import pytest
from openpyxl import Workbook, load_workbook

from guardbook.errors import UnreadableFile
from guardbook.intake.drafts import RowDraft
from guardbook.intake.read import read_file
from tests.intake.files import row_of, workbook

HEADINGS = ["Workshop number", "Height", "Host volume"]


def with_value(book: bytes, formula: str, value: str) -> bytes:
    """Put the value a spreadsheet program has worked out beside a formula, as it is kept in the file."""
    without = re.compile(rf"<f>{re.escape(formula)}</f><v( ?/>|></v>)".encode())
    return changed(book, lambda content: without.sub(f"<f>{formula}</f><v>{value}</v>".encode(), content))


def changed(book: bytes, change: Callable[[bytes], bytes]) -> bytes:
    """Change the XML of a workbook's first sheet."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as before, zipfile.ZipFile(packed, "w") as after:
        for part in before.namelist():
            content = before.read(part)
            after.writestr(part, change(content) if part.endswith("sheet1.xml") else content)
    return packed.getvalue()


def test_the_name_of_a_sheet_says_what_its_rows_are() -> None:
    book = workbook(
        {
            "Fragmente": [HEADINGS, ["W-1", 45.5, "V-1"]],
            "Bände": [["Werkstattnummer", "Zustände"], ["V-1", "1 bound 1510~"]],
        }
    )
    drafts = [draft for draft in read_file(book, "list.xlsx").drafts if isinstance(draft, RowDraft)]
    assert [draft.kind for draft in drafts] == ["fragment", "placing", "host"]
    assert drafts[2].where == "list.xlsx, sheet Bände, row 2"


def test_a_sheet_whose_name_says_nothing_is_named_where_it_is_not_alone() -> None:
    book = workbook({"pieces": [HEADINGS, ["W-1", 1, "V-1"]], "Sheet2": [["what"], ["this"]]})
    (fault,) = read_file(book, "list.xlsx").faults
    assert fault.where == "list.xlsx, sheet Sheet2"
    assert "volumes" in fault.mend


def test_a_sheet_that_stands_alone_holds_pieces_or_what_was_said() -> None:
    book = workbook({"Tabelle1": [["Workshop number"], ["V-1"]]})
    number = {"workshopNumber": "V-1"}
    assert row_of(read_file(book, "list.xlsx")).values == number
    assert row_of(read_file(book, "list.xlsx", sheet_kind="volums"), "host").values == number


def test_sheets_that_are_hidden_or_begin_with_a_hash_are_left_out() -> None:
    def hide(book: Workbook) -> None:
        book["old"].sheet_state = "hidden"

    sheets = {"pieces": [HEADINGS, ["W-1", 1, "V-1"]], "old": [["x"], ["y"]], "# remarks": [["x"], ["y"]]}
    intake = read_file(workbook(sheets, hide), "list.xlsx")
    assert intake.faults == ()
    assert intake.notes == ("Hidden sheets were left out: list.xlsx, sheet old.",)


def test_a_formula_is_read_by_the_value_saved_with_it() -> None:
    book = with_value(workbook({"pieces": [HEADINGS, ["W-1", "=40+5.5", "V-1"]]}), "40+5.5", "45.5")
    intake = read_file(book, "list.xlsx")
    assert row_of(intake).values["height"] == "45.5"
    assert "=40+5.5 as 45.5 in list.xlsx, sheet pieces, row 2, column B" in intake.notes[0]


def test_a_formula_without_a_value_names_its_cell() -> None:
    (fault,) = read_file(workbook({"pieces": [HEADINGS, ["W-1", "=40+5.5", "V-1"]]}), "list.xlsx").faults
    assert fault.where == "list.xlsx, sheet pieces, row 2, column B"
    assert "=40+5.5" in fault.found


def test_text_that_begins_as_a_formula_does_is_text() -> None:
    def as_text(book: Workbook) -> None:
        book["pieces"]["B2"].data_type = "s"

    book = workbook({"pieces": [["Workshop number", "Note"], ["W-1", "=1+1"]]}, as_text)
    assert row_of(read_file(book, "list.xlsx")).values["note"] == "=1+1"


def test_cells_merged_down_a_column_hold_for_each_row() -> None:
    rows = [HEADINGS, ["W-1", 1, "V-1"], ["W-2", 2, None], ["W-3", 3, None], ["W-4", 4, "V-2"]]
    book = workbook({"pieces": rows}, lambda book: book["pieces"].merge_cells("C2:C4"))
    intake = read_file(book, "list.xlsx")
    hosts = [row_of(intake, "placing", at).values["host"].text for at in range(4)]
    assert hosts == ["V-1", "V-1", "V-1", "V-2"]
    assert "C2:C4" in intake.notes[0]


@pytest.mark.parametrize("area", ["B2:C2", "A1:B1", "B2:C3"])
def test_other_merged_cells_are_named(area: str) -> None:
    rows = [HEADINGS, ["W-1", 1, "V-1"], ["W-2", 2, "V-1"]]
    intake = read_file(workbook({"pieces": rows}, lambda book: book["pieces"].merge_cells(area)), "list.xlsx")
    assert [fault.where for fault in intake.faults if fault.found == "merged cells"] == [
        f"list.xlsx, sheet pieces, cells {area}"
    ]


def test_what_the_spreadsheet_could_not_work_out_is_named() -> None:
    def fail(book: Workbook) -> None:
        book["pieces"]["B2"].value, book["pieces"]["B2"].data_type = "#REF!", "e"

    (fault,) = read_file(workbook({"pieces": [HEADINGS, ["W-1", 1, "V-1"]]}, fail), "list.xlsx").faults
    assert (fault.where, fault.found) == ("list.xlsx, sheet pieces, row 2, column B", "#REF!")


def test_the_noise_of_binary_fractions_is_left_out() -> None:
    book = workbook({"pieces": [HEADINGS, ["W-1", 0.1 + 0.2, "V-1"]]})
    assert row_of(read_file(book, "list.xlsx")).values["height"] == "0.3"


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"PK\x03\x04 and nothing more", "Save it again as .xlsx"),
        (b"\xd0\xcf\x11\xe0 an older workbook", "password"),
        (b"", "Save it again as .xlsx"),
    ],
)
def test_a_file_that_is_no_workbook_is_refused_in_words(data: bytes, says: str) -> None:
    with pytest.raises(UnreadableFile, match=r"list\.xlsx cannot be read") as caught:
        read_file(data, "list.xlsx")
    assert says in caught.value.faults[0].mend


@pytest.mark.parametrize("rows", [0, 5000])
def test_a_workbook_that_breaks_off_is_refused_in_words(rows: int) -> None:
    book = workbook({"pieces": [HEADINGS, *([f"W-{at}", 1, "V-1"] for at in range(rows))]})
    broken = changed(book, lambda content: content[: len(content) * 3 // 4])
    with pytest.raises(UnreadableFile, match="cannot be read"):
        read_file(broken, "list.xlsx")


def test_the_books_made_for_these_tests_are_workbooks() -> None:
    assert load_workbook(io.BytesIO(workbook({"pieces": [HEADINGS]}))).sheetnames == ["pieces"]


@pytest.mark.parametrize(
    ("number", "number_format", "read"),
    [(45.5, "0.00", "45.50"), (45.5, "General", "45.5"), (45.55, "0.0", "45.55"), (45, "0.0", "45.0")],
)
def test_a_measurement_keeps_the_noughts_that_the_sheet_shows(
    number: float, number_format: str, read: str
) -> None:
    def show(book: Workbook) -> None:
        book.worksheets[0].cell(2, 2).number_format = number_format

    sheet = workbook({"pieces": [HEADINGS, ["W-1", number, "V-1"]]}, show)
    assert row_of(read_file(sheet, "pieces.xlsx")).values["height"] == read
