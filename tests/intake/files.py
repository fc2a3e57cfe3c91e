"""Files as people hand them in, made for tests."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from openpyxl import Workbook

from guardbook.intake.drafts import Intake, RowDraft, WholeDraft
from guardbook.intake.read import read_file
from guardbook.records.base import Record


def csv_file(*rows: Sequence[str], delimiter: str = ";", encoding: str = "utf-8") -> bytes:
    """Write rows as CSV, the headings first."""
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter).writerows(rows)
    return text.getvalue().encode(encoding)


def workbook(sheets: Mapping[str, Any], change: Callable[[Workbook], None] | None = None) -> bytes:
    """Write sheets as XLSX; `change` may do to the workbook what a person does to it."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    if change:
        change(book)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def read_rows(*rows: Sequence[str], kind: str = "pieces") -> Intake:
    """Read rows, the headings first, as a sheet of a kind."""
    return read_file(csv_file(*rows), "list.csv", sheet_kind=kind)


def row_of(intake: Intake, kind: str = "fragment", at: int = 0) -> RowDraft:
    """Give one of the drafts of a kind that rows were read into."""
    drafts = [draft for draft in intake.drafts if isinstance(draft, RowDraft) and draft.kind == kind]
    return drafts[at]


def records_of(intake: Intake) -> list[Record]:
    """Give the whole records that were read."""
    return [draft.record for draft in intake.drafts if isinstance(draft, WholeDraft)]


def places(intake: Intake) -> list[str]:
    """Give where the faults lie, without the file's name."""
    return [fault.where.partition(", ")[2] for fault in intake.faults]
