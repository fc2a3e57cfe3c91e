"""Empty spreadsheets to fill in, made from the shapes: headings in one's language, terms to choose from."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from guardbook.intake.columns import Column, Holds, columns_of
from guardbook.intake.headings import label_in_sheet
from guardbook.intake.words import in_language, models_of
from guardbook.records import terms

FORMATS = ("csv", "xlsx")
_TERMS_SHEET = "# terms"
_LAST_ROW = 5000
GUIDE_WIDTHS = (32, 70, 28, 28, 90)
SHADES = ("DDEBF7", "E2EFDA", "FCE4D6")
# a spreadsheet must not make days or numbers of what is written here
_AS_TEXT = frozenset(Holds) - {Holds.LENGTH, Holds.ANGLE, Holds.NUMBER, Holds.COUNT, Holds.REVISION}


def template(format_name: str, language: str, kind: str = "pieces") -> bytes:
    """Give an empty sheet of a kind, as `csv` or `xlsx`, with its headings in a language.

    The CSV has a byte order mark and, but for English, semicolons, as spreadsheet programs there expect.
    The XLSX has the columns that are seldom needed folded away, terms to choose from, and a second sheet
    that explains each column.
    """
    return _csv(language, kind) if format_name == "csv" else _xlsx(language, kind)


def _csv(language: str, kind: str) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter="," if language == "en" else ";")
    writer.writerow(label_in_sheet(column, kind, language) for column in columns_of(kind))
    return text.getvalue().encode("utf-8-sig")


def _xlsx(language: str, kind: str) -> bytes:
    book = Workbook()
    sheet: Any = book.active
    sheet.title = in_language("sheets", kind, language)
    _guide(book.create_sheet(in_language("words", "guide", language)), kind, language)
    ranges = _terms(book.create_sheet(_TERMS_SHEET), kind, language)
    for at, column in enumerate(columns_of(kind), 1):
        _heading(sheet, at, column, kind, language)
        if column.scheme:
            _choices(sheet, get_column_letter(at), ranges[column.scheme])
    sheet.freeze_panes = "A2"
    sheet.sheet_properties.outlinePr.summaryRight = False
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _heading(sheet: Any, at: int, column: Column, kind: str, language: str) -> None:
    cell = sheet.cell(1, at, label_in_sheet(column, kind, language))
    shade = SHADES[models_of(kind).index(column.model)]
    cell.font, cell.fill = Font(bold=True), PatternFill("solid", start_color=shade)
    cell.alignment = Alignment(wrap_text=True, vertical="top")
    width = sheet.column_dimensions[get_column_letter(at)]
    width.width = 18
    if column.holds in _AS_TEXT:
        width.number_format = "@"
    if not column.everyday:
        width.outlineLevel, width.hidden = 1, True


def _choices(sheet: Any, letter: str, terms_range: str) -> None:
    """Offer the terms; what is typed in another language, or several terms, is let pass."""
    choice = DataValidation(type="list", formula1=terms_range, allow_blank=True, showErrorMessage=False)
    choice.add(f"{letter}2:{letter}{_LAST_ROW}")
    sheet.add_data_validation(choice)


def _terms(sheet: Any, kind: str, language: str) -> dict[str, str]:
    """Write each list of terms in a column of a hidden sheet; give where each stands."""
    sheet.sheet_state = "hidden"
    ranges = {}
    for at, scheme in enumerate(dict.fromkeys(c.scheme for c in columns_of(kind) if c.scheme), 1):
        labels = list(_labels(scheme, language))
        for row, text in enumerate([scheme, *labels], 1):
            sheet.cell(row, at, text)
        letter = get_column_letter(at)
        ranges[scheme] = f"'{_TERMS_SHEET}'!${letter}$2:${letter}${len(labels) + 1}"
    return ranges


def _labels(scheme: str, language: str) -> Iterator[str]:
    return iter(sorted(concept.label(language) for concept in terms.all_concepts()[scheme].values()))


def _guide(sheet: Any, kind: str, language: str) -> None:
    for row in guide_rows(columns_of(kind), kind, language):
        sheet.append(row)
    for letter, width in zip("ABCDE", GUIDE_WIDTHS, strict=True):
        sheet.column_dimensions[letter].width = width
        for cell in sheet[letter]:
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            cell.font = Font(bold=cell.row == 1)
    sheet.freeze_panes = "A2"


def guide_rows(columns: Iterable[Column], kind: str, language: str) -> Iterator[list[str]]:
    """Explain each column: what it is called, what goes in, how it is written, which terms there are."""
    yield ["Column", "What goes in", "Written as", "Name of the field", "Terms"]
    for column in columns:
        written = f"{column.holds}, several with ; between" if column.many else str(column.holds)
        names = ", ".join(_labels(column.scheme, language)) if column.scheme else ""
        label = label_in_sheet(column, kind, language)
        yield [label, column.help, written, f"{column.kind}.{column.name}", names]
