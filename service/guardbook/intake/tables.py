"""A sheet as rows of cells under headings, whatever file it came from."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from openpyxl.utils import get_column_letter

from guardbook.intake.cells import Cell
from guardbook.intake.drafts import Findings
from guardbook.wording import _

Value = str | Decimal | bool | dt.date
RawRow = tuple[int, list[Value | None]]


@dataclass(frozen=True)
class Line:
    """One row of a sheet: its number as the spreadsheet shows it, and a cell (or None) for each heading."""

    number: int
    cells: tuple[Cell | None, ...]


@dataclass(frozen=True)
class Table:
    """One sheet: where it is, its name, its headings as (text, where), its rows, and about how many."""

    where: str
    name: str
    headings: tuple[tuple[str, str], ...]
    lines: Iterator[Line]
    size: int


def laid_out(rows: Iterable[RawRow], where: str, name: str, size: int, findings: Findings) -> Table | None:
    """Take the first row that is not empty as headings; give None where there is none."""
    rows = iter(rows)
    for number, values in rows:
        texts = [" ".join(Cell(value, "").text.split()) if value is not None else "" for value in values]
        while texts and not texts[-1]:
            texts.pop()
        if texts:
            headings = tuple(
                (text, f"{where}, {_column(at, text, number)}") for at, text in enumerate(texts, 1)
            )
            return Table(where, name, headings, _lines(rows, where, texts, findings), size)
    return None


def _column(at: int, heading: str, row: int) -> str:
    letter = get_column_letter(at)
    return f"row {row}, column {letter}, {heading}" if heading else f"row {row}, column {letter}"


def _lines(rows: Iterator[RawRow], where: str, texts: list[str], findings: Findings) -> Iterator[Line]:
    for number, values in rows:
        cells = [
            None if value is None else Cell(value, f"{where}, {_column(at, text, number)}")
            for at, (value, text) in enumerate(zip(values, [*texts, *[""] * len(values)], strict=False), 1)
        ]
        written = [None if cell is None or cell.is_empty else cell for cell in cells]
        if any(written):
            _without_heading(written, texts, findings)
            yield Line(number, tuple(written[: len(texts)]))


def _without_heading(cells: list[Cell | None], texts: list[str], findings: Findings) -> None:
    for cell, text in zip(cells, [*texts, *[""] * len(cells)], strict=False):
        if cell is not None and not text:
            findings.fault(
                cell.where,
                repr(cell.text),
                _("nothing, since the column has no heading"),
                _("Give it one. If a comma within a cell has split it, put the cell in double quotes."),
            )
