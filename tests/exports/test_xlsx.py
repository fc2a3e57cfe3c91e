"""Pieces as a workbook: what a person finds in it, and what it never does."""

from __future__ import annotations

import io
from typing import Any

import pytest
from openpyxl import load_workbook

from guardbook.actions.export_records import export_records
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue
from guardbook.errors import WrongUse
from guardbook.exports import table
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.exports.xlsx import MOST_CHARACTERS, write_xlsx
from guardbook.records.base import Record
from tests.catalogue.shelf import made, save, strip


def workbook(*records: Record, around: Surroundings = ALONE) -> Any:
    output = io.BytesIO()
    write_xlsx(records, output, around)
    return load_workbook(output)


def cells(book: Any, row: int = 2) -> dict[str, Any]:
    """Give the cells of a row by what stands over them."""
    sheet = book.worksheets[0]
    return {heading.value: cell for heading, cell in zip(sheet[1], sheet[row], strict=True) if cell.value}


@pytest.mark.parametrize("text", ["=1+1", "+4", "-4", "@x", "=cmd|' /C calc'!A0", '=HYPERLINK("x")'])
def test_a_text_is_never_a_formula_even_when_its_cell_is_written_again(text: str) -> None:
    cell = cells(workbook(strip(title=text)))["Title"]
    assert (cell.value, cell.data_type, cell.quotePrefix) == (text, "s", True)


def test_a_measurement_is_a_number_that_shows_the_digits_that_were_written() -> None:
    found = cells(workbook(strip(height="45.50", width="40", thickness="0.12345678901234567")))
    assert (found["Height (mm)"].value, found["Height (mm)"].number_format) == (45.5, "0.00")
    assert (found["Width (mm)"].value, found["Width (mm)"].number_format) == (40, "0")
    assert found["Thickness (mm)"].value == "0.12345678901234567"


def test_labels_terms_and_truths_are_in_the_chosen_language() -> None:
    event = made("separation", "out", piece=strip().id, sampleKept=True)
    found = cells(workbook(strip(), event, around=Surroundings(language="ca")))
    assert found["Material"].value == "pergamí"
    assert "sí" in [cell.value for cell in found.values()]


def test_a_keeper_stands_there_by_address_and_by_name(catalogue: Catalogue) -> None:
    keeper = made("institution", "keeper", name="Library of the Weir")
    save(catalogue.access(), keeper, strip(keeper=keeper.id))
    output = io.BytesIO()
    export_records(catalogue.access(Viewer.PUBLIC), None, "xlsx", output)
    found = cells(load_workbook(output))
    assert (found["Kept by"].value, found["# Kept by"].value) == (keeper.id, "Library of the Weir")


def test_the_second_sheet_explains_every_column() -> None:
    book = workbook(strip())
    explained = [row[0].value for row in book.worksheets[1].iter_rows(min_row=2)]
    told = [cell.value for cell in book.worksheets[0][1] if not cell.value.startswith("# ")]
    assert explained == told == [table.heading(column) for column in table.columns()]


def test_a_text_longer_than_a_cell_may_be_says_so() -> None:
    value = cells(workbook(strip(note="x" * 40_000)))["Note"].value
    assert len(value) == MOST_CHARACTERS
    assert value.endswith("see the record]")


def test_an_unknown_language_is_refused(catalogue: Catalogue) -> None:
    with pytest.raises(WrongUse, match="'xx'"):
        export_records(catalogue.access(), None, "xlsx", io.BytesIO(), language="xx")
