"""Pieces as a workbook for people: one row a piece, in the chosen language, and a sheet that explains it.

The rows and columns are those of the CSV, so the workbook can be added again. Beside each column of records
stands one of their names; its heading begins with #, by which it is left out when the workbook is added.
Rows are written as they come, so a long table does not fill the memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any, BinaryIO, cast

from openpyxl import Workbook
from openpyxl.cell import Cell, WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter

from guardbook.exports import table
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.intake.cells import BEGINS_A_FORMULA
from guardbook.intake.columns import Column, Holds
from guardbook.intake.template import GUIDE_WIDTHS, SHADES, guide_rows
from guardbook.intake.when import unmistakable
from guardbook.intake.words import in_language, models_of
from guardbook.records import terms
from guardbook.records.base import Record

# Limits of the format: characters of a cell, and digits that its binary numbers hold
MOST_CHARACTERS = 32_767
MOST_DIGITS = 15
_MOST_PLACES = 10
_NUMBERS = {Holds.LENGTH, Holds.ANGLE, Holds.NUMBER, Holds.COUNT}
_RECORDS = {Holds.RECORD, Holds.STAGE}
_ESCAPE = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_TOP = Alignment(wrap_text=True, vertical="top")


def write_xlsx(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write pieces, each followed by its events among the records; other records are passed over."""
    book = Workbook(write_only=True)
    sheet: Any = book.create_sheet(in_language("sheets", "pieces", around.language))
    sheet.freeze_panes = "B2"
    columns = tuple(_columns())
    for at in range(1, len(columns) + 1):
        sheet.column_dimensions[get_column_letter(at)].width = 18
    sheet.append([_heading(sheet, column, around.language, names=names) for column, names in columns])
    for row in table.rows(records):
        sheet.append([_cell(sheet, column, row, around, names=names) for column, names in columns])
    _guide(book.create_sheet(in_language("words", "guide", around.language)), around.language)
    book.save(output)


def _columns() -> Iterator[tuple[Column, bool]]:
    """Give each column, and after one of records the same again for their names."""
    for column in table.columns():
        yield column, False
        if column.holds in _RECORDS:
            yield column, True


def _heading(sheet: Any, column: Column, language: str, *, names: bool) -> Cell:
    cell = _text(sheet, ("# " if names else "") + table.heading(column, language))
    shade = SHADES[models_of("pieces").index(column.model)]
    cell.font, cell.fill = Font(bold=True), PatternFill("solid", start_color=shade)
    cell.alignment = _TOP
    return cell


def _cell(sheet: Any, column: Column, row: table.Row, around: Surroundings, *, names: bool) -> Cell | None:
    found = table.values(column, row)
    if names:
        found = [name for iri in found if (name := around.name(iri))]
    if not found:
        return None
    if column.holds in _NUMBERS and len(found) == 1 and (number := _number(sheet, found[0])):
        return number
    written = (str(item) if names else _written(item, column, around.language) for item in found)
    return _text(sheet, "; ".join(written))


def _number(sheet: Any, value: Any) -> Cell | None:
    """Give a cell that shows the digits that were written, or None where the format cannot hold them."""
    number = Decimal(str(value))
    digits, exponent = number.as_tuple()[1:]
    if len(digits) > MOST_DIGITS or not isinstance(exponent, int) or not -_MOST_PLACES <= exponent <= 0:
        return None
    cell: Cell = WriteOnlyCell(sheet, cast(Any, number))  # decimals are written as they are
    cell.number_format = f"0.{'0' * -exponent}" if exponent < 0 else "0"
    return cell


def _written(value: Any, column: Column, language: str) -> str:
    if isinstance(value, bool):
        return in_language("words", "yes" if value else "no", language)
    if column.holds is Holds.DATE:
        return unmistakable(str(value))
    return terms.label(column.scheme, value, language) if column.scheme else str(value)


def _text(sheet: Any, text: str) -> Cell:
    """Give a cell of text that no program runs as a formula, nor does once the cell is written again."""
    cell: Cell = WriteOnlyCell(sheet, _fitting(_ESCAPE.sub("_x005F_", text)))
    cell.data_type, cell.number_format = "s", "@"
    cell.quotePrefix = text.startswith(BEGINS_A_FORMULA)
    return cell


def _fitting(text: str) -> str:
    """Say so where a text is longer than a cell may be."""
    cut = " [... longer than a cell may be: see the record]"
    return text if len(text) <= MOST_CHARACTERS else text[: MOST_CHARACTERS - len(cut)] + cut


def _guide(sheet: Any, language: str) -> None:
    sheet.freeze_panes = "A2"
    for letter, width in zip("ABCDE", GUIDE_WIDTHS, strict=True):
        sheet.column_dimensions[letter].width = width
    for number, row in enumerate(guide_rows(table.columns(), "pieces", language)):
        cells = [_text(sheet, text) for text in row]
        for cell in cells:
            cell.alignment, cell.font = _TOP, Font(bold=number == 0)
        sheet.append(cells)
