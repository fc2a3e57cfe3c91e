"""XLSX workbooks, row by row: hidden sheets, formulas and merged cells are understood or named.

Rows are streamed, so that a long sheet does not fill the memory. What openpyxl leaves out when it
streams (merged cells, whether there are formulas at all) is looked up in the file itself.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import repeat
from typing import Any
from xml.etree.ElementTree import ParseError

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.utils.exceptions import InvalidFileException

from guardbook.errors import Fault, UnreadableFile
from guardbook.intake.drafts import Findings
from guardbook.intake.tables import RawRow, Table, Value, laid_out
from guardbook.wording import _

LARGEST_UNPACKED_BYTES = 500_000_000
_CHUNK = 1 << 20
_OVERLAP = 300
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([A-Z]+[0-9]+(?::[A-Z]+[0-9]+)?)"')
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s>/]")
_ROW = re.compile(rb"<(?:\w+:)?row[\s>]")
_FIXED_PLACES = re.compile(r"0\.(?P<places>0{1,10})")
_ERRORS = {"#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NULL!", "#NUM!"}
_BROKEN = (
    zipfile.BadZipFile, zlib.error, ParseError, InvalidFileException, KeyError, ValueError, TypeError,
    AttributeError, IndexError, EOFError, OSError,
)  # fmt: skip


@dataclass
class _Facts:
    """What was seen in a sheet's own XML."""

    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    has_formulas: bool = False
    rows: int = 0


def read_xlsx(data: bytes, name: str, findings: Findings) -> list[Table]:
    """Read the visible sheets of a workbook, save those whose name begins with #. Raises UnreadableFile."""
    try:
        return list(_tables(data, name, findings))
    except _BROKEN as error:
        raise _unreadable(name, data, error) from error


def _unreadable(name: str, data: bytes, error: Exception) -> UnreadableFile:
    old = data.startswith(b"\xd0\xcf\x11\xe0")
    mend = (
        _("It is an old .xls file or has a password: save it as .xlsx without one.")
        if old
        else _("Save it again as .xlsx.")
    )
    fault = Fault(
        where=name, found=str(error) or type(error).__name__, expected=_("an XLSX workbook"), mend=mend
    )
    return UnreadableFile(
        message=_("{name} cannot be read as a workbook.").format(name=name), faults=(fault,)
    )


def _tables(data: bytes, name: str, findings: Findings) -> Iterator[Table]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        if sum(part.file_size for part in archive.infolist()) > LARGEST_UNPACKED_BYTES:
            too_large = _("a workbook of more than {size} MB unpacked")
            raise InvalidFileException(too_large.format(size=LARGEST_UNPACKED_BYTES // 1_000_000))
        book = _open(data, values=False)
        facts = {sheet.title: _facts(archive, _part_of(sheet)) for sheet in book.worksheets}
    values = _open(data, values=True) if any(found.has_formulas for found in facts.values()) else None
    for sheet in book.worksheets:
        where = f"{name}, sheet {sheet.title}"
        found = facts[sheet.title]
        if sheet.title.startswith("#"):
            continue
        if sheet.sheet_state != "visible":
            findings.note(_("Hidden sheets were left out"), where)
            continue
        worked_out = values[sheet.title] if values and found.has_formulas else None
        rows = _merged_rows(_rows(sheet, worked_out, where, findings), found, where, findings)
        if table := laid_out(_to_the_end(rows, name, data), where, sheet.title, found.rows, findings):
            yield table


def _to_the_end(rows: Iterator[RawRow], name: str, data: bytes) -> Iterator[RawRow]:
    """Give the rows; a sheet that breaks off somewhere in the middle is told as a broken file is."""
    try:
        yield from rows
    except _BROKEN as error:
        raise _unreadable(name, data, error) from error


def _open(data: bytes, *, values: bool) -> Any:
    with warnings.catch_warnings():
        # openpyxl warns of styles and extensions it does not keep; nothing is written back here
        warnings.simplefilter("ignore")
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=values, keep_links=False)
    for sheet in book.worksheets:
        # some programs state a wrong size, and the rest of the sheet would be left out
        sheet.reset_dimensions()
    return book


def _part_of(sheet: Any) -> str:
    # openpyxl has no public way from a streamed sheet to its part of the file
    return str(sheet._worksheet_path)  # noqa: SLF001


def _facts(archive: zipfile.ZipFile, part: str) -> _Facts:
    """Look a sheet's XML through in pieces, each with the end of the one before it."""
    facts, merged, before = _Facts(), dict[str, None](), b""
    with archive.open(part) as xml:
        while chunk := xml.read(_CHUNK):
            piece = before + chunk
            merged |= {found.decode(): None for found in _MERGED.findall(piece)}
            facts.has_formulas = facts.has_formulas or bool(_FORMULA.search(piece))
            facts.rows += len(_ROW.findall(chunk))
            before = piece[-_OVERLAP:]
    facts.merged = [_corners(text) for text in merged]
    return facts


def _corners(area: str) -> tuple[int, int, int, int]:
    left, top, right, bottom = range_boundaries(area)
    return left or 1, top or 1, right or 1, bottom or 1


def _rows(sheet: Any, worked_out: Any, where: str, findings: Findings) -> Iterator[RawRow]:
    results = worked_out.iter_rows(values_only=True) if worked_out else repeat(())
    for number, (cells, last) in enumerate(zip(sheet.iter_rows(), results, strict=False), 1):
        padded = [*last, *[None] * (len(cells) - len(last))]
        yield (
            number,
            [
                _value(cell, result, f"{where}, row {number}, column {get_column_letter(at)}", findings)
                for at, (cell, result) in enumerate(zip(cells, padded, strict=False), 1)
            ],
        )


def _value(cell: Any, result: Any, where: str, findings: Findings) -> Value | None:
    if cell.value is None:
        return None
    if cell.data_type == "f":
        if result is None:
            mend = _(
                "Open and save the file in the spreadsheet program, or put a value in place of the formula."
            )
            formula = _("the formula {formula}").format(formula=cell.value)
            findings.fault(where, formula, _("a value worked out and saved with it"), mend)
            return None
        case = _("{formula} as {value} in {where}").format(formula=cell.value, value=result, where=where)
        findings.note(_("Formulas were read by the value saved with them"), case)
        return _plain(result, where, findings)
    found = _plain(cell.value, where, findings)
    return _as_shown(found, cell.number_format) if isinstance(found, Decimal) else found


def _as_shown(number: Decimal, number_format: str) -> Decimal:
    """Give a number the noughts at its end that it is shown with: 45.50 was measured better than 45.5."""
    shown = _FIXED_PLACES.fullmatch(number_format or "")
    places = Decimal(1).scaleb(-len(shown["places"])) if shown else number
    return number.quantize(places) if number == number.quantize(places) else number


def _plain(value: Any, where: str, findings: Findings) -> Value | None:
    match value:
        case bool() | dt.date():
            return value
        case int():
            return Decimal(value)
        case float():
            # what the spreadsheet shows: 15 digits, the rest is noise of binary fractions
            return Decimal(f"{value:.15g}")
        case str() if value in _ERRORS:
            findings.fault(where, value, _("a value"), _("The spreadsheet could not work this cell out."))
            return None
        case str():
            return value or None
        case _:
            mend = _("Make the cell text and write it again.")
            findings.fault(where, str(value), _("a number, a day or text"), mend)
            return None


def _merged_rows(rows: Iterator[RawRow], facts: _Facts, where: str, findings: Findings) -> Iterator[RawRow]:
    """Repeat a value merged down one column in each of its rows; name every other merged range."""
    down = dict(_downward(facts, where, findings))
    carried: dict[int, tuple[Value | None, int]] = {}
    for number, values in rows:
        carried = {column: held for column, held in carried.items() if number <= held[1]}
        wide = values + [None] * (max(carried, default=-1) + 1 - len(values))
        for column, (value, _last) in carried.items():
            wide[column] = value
        for column, value in enumerate(wide):
            if (column, number) in down:
                carried[column] = (value, down[column, number])
        yield number, wide


def _downward(facts: _Facts, where: str, findings: Findings) -> Iterator[tuple[tuple[int, int], int]]:
    """Give (column, first row) and last row of what is merged down a column below the headings."""
    for left, top, right, bottom in facts.merged:
        area = f"{get_column_letter(left)}{top}:{get_column_letter(right)}{bottom}"
        if left == right and top > 1:
            findings.note(_("Cells merged down a column hold for each of their rows"), f"{where}, {area}")
            yield (left - 1, top), bottom
        else:
            mend = _("Unmerge them, and write the value in each cell it holds for.")
            findings.fault(f"{where}, cells {area}", _("merged cells"), _("one cell for each value"), mend)
