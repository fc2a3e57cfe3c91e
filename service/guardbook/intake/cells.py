"""From a cell to the value of a field. What has two readings is asked about, what has none is a fault.

A cell that begins with =, +, - or @ is text like any other: nothing in a file is ever run.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from guardbook.intake import lists
from guardbook.intake.columns import Column, Holds
from guardbook.intake.drafts import Findings, Mention, StageMention, shown
from guardbook.intake.headings import Heading
from guardbook.intake.lists import Listed
from guardbook.intake.when import date_written, from_day
from guardbook.intake.words import truth
from guardbook.records import terms
from guardbook.units import Read, degrees, dimensions_mm, length_mm, number, plain, whole_number
from guardbook.wording import _

_BRACKETED = re.compile(r"\[\s*(?P<answer>[^\[\]]+?)\s*\]")
# what a spreadsheet takes for the beginning of a formula
BEGINS_A_FORMULA = ("=", "+", "-", "@")
_DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212"


@dataclass(frozen=True)
class Cell:
    """What stands in one cell, and where it is. Spreadsheets hold numbers, days and truth values as such."""

    value: str | Decimal | bool | dt.date
    where: str

    @property
    def text(self) -> str:
        """Give what a person would read in the cell."""
        match self.value:
            case bool():
                return "yes" if self.value else "no"
            case Decimal():
                return plain(self.value)
            case dt.date():
                return from_day(self.value)
            case _:
                return self.value.strip()

    @property
    def is_empty(self) -> bool:
        """Tell whether the cell says nothing; a dash alone says nothing."""
        return isinstance(self.value, str) and not self.text.strip(_DASHES)


@dataclass(frozen=True)
class Answered:
    """A cell that says why there is no value: looked for and not found, cannot be known."""

    slug: str


@dataclass(frozen=True)
class _Written:
    """A cell under its column."""

    cell: Cell
    column: Column
    unit: str

    @property
    def text(self) -> str:
        return self.cell.text

    @property
    def figures(self) -> str:
        """Give the text of a cell that holds figures; a day in it was a number once."""
        if isinstance(self.cell.value, dt.date):
            raise ValueError(
                _("a number. The spreadsheet has made a day of it: make the cell text, write it again.")
            )
        return self.cell.text

    def pieces(self, marks: str) -> list[str]:
        return [piece.strip() for piece in re.split(f"[{marks}\n]", self.text) if piece.strip()]


@dataclass(frozen=True)
class _Understood:
    """A value, and its doubtful parts as (taken, other)."""

    value: Any
    doubts: tuple[tuple[str, str], ...] = ()


def read_cell(cell: Cell, heading: Heading, findings: Findings) -> dict[Column, Any]:
    """Read a cell under its heading: one value, or several where the heading joins dimensions.

    Faults and doubts go to the findings; a column whose value could not be read is left out.
    """
    column = heading.columns[0]
    written = _Written(cell, column, heading.unit)
    if slug := _answer(written):
        return dict.fromkeys(heading.columns, Answered(slug))
    try:
        found = (
            _sides(written, len(heading.columns))
            if len(heading.columns) > 1
            else _READERS[column.holds](written)
        )
    except ValueError as refusal:
        findings.refused(cell.where, shown(cell.value if isinstance(cell.value, str) else cell.text), refusal)
        return {}
    # a number or a day that the spreadsheet holds as such has one reading
    for taken, other in found.doubts if isinstance(cell.value, str) else ():
        findings.ask(cell.where, shown(cell.text), taken, other)
    if column.holds is Holds.DATE and not found.doubts and found.value != cell.text:
        case = _("{written} as {date} in {where}")
        case = case.format(written=repr(cell.text), date=found.value, where=cell.where)
        findings.note(_("Dates were read as EDTF"), case)
    values = found.value if len(heading.columns) > 1 else (found.value,)
    return dict(zip(heading.columns, values, strict=True))


def _answer(written: _Written) -> str | None:
    """Find an answer such as `[not found]`; the brackets may be left out where text is not expected."""
    if not isinstance(written.cell.value, str) or len(written.column.path) > 1:
        return None
    if bracketed := _BRACKETED.fullmatch(written.text):
        return terms.slug_for("answer", bracketed["answer"])
    is_free = written.column.holds in {Holds.TEXT, Holds.RECORD, Holds.IDENTIFIER}
    return None if is_free else terms.slug_for("answer", written.text)


def _doubts(read: Read, unit: str = "") -> tuple[tuple[str, str], ...]:
    return ((plain(read.value) + unit, read.or_else + unit),) if read.or_else else ()


def _sides(written: _Written, many: int) -> _Understood:
    sides = dimensions_mm(written.figures, written.unit)
    if len(sides) != many:
        raise ValueError(_("{count} lengths with x between them, as in the heading").format(count=many))
    doubts = tuple(doubt for side in sides for doubt in _doubts(side, " mm"))
    return _Understood([plain(side.value) for side in sides], doubts)


def _length(written: _Written) -> _Understood:
    read = length_mm(written.figures, written.unit)
    return _Understood(plain(read.value), _doubts(read, " mm"))


def _angle(written: _Written) -> _Understood:
    read = degrees(written.figures)
    return _Understood(plain(read.value), _doubts(read, "°"))


def _number(written: _Written) -> _Understood:
    read = number(written.figures)
    return _Understood(plain(read.value), _doubts(read))


def _whole(written: _Written) -> _Understood:
    value = written.cell.value
    if isinstance(value, Decimal) and value != value.to_integral_value():
        raise ValueError(_("a whole number, such as 12"))
    read = whole_number(written.figures)
    return _Understood(int(read.value), _doubts(read))


def _flag(written: _Written) -> _Understood:
    found = truth(written.text)
    if found is None:
        raise ValueError(_("yes or no"))
    return _Understood(found)


def _date(written: _Written) -> _Understood:
    found = date_written(written.text)
    return _Understood(found.value, ((found.value, found.or_else),) if found.or_else else ())


def _text(written: _Written) -> _Understood:
    return _Understood(written.pieces(";,") if written.column.many else as_typed(written.text))


def kept_from_running(text: str) -> str:
    """Put an apostrophe before a text that spreadsheets would run as a formula.

    >>> kept_from_running("=1+1"), as_typed(kept_from_running("=1+1"))
    ("'=1+1", '=1+1')
    """
    return f"'{text}" if text.startswith(BEGINS_A_FORMULA) else text


def as_typed(text: str) -> str:
    """Take the apostrophe off again."""
    return text[1:] if text.startswith("'") and text[1:].startswith(BEGINS_A_FORMULA) else text


def _term(written: _Written) -> _Understood:
    scheme = written.column.scheme
    if not written.column.many:
        return _Understood(_slug(written.text, scheme))
    if slug := terms.slug_for(scheme, written.text):
        return _Understood([slug])
    # a comma may stand between terms, or within the name of one
    by_comma = [terms.slug_for(scheme, piece) for piece in written.pieces(";,")]
    return _Understood(by_comma if all(by_comma) else [_slug(piece, scheme) for piece in written.pieces(";")])


def _slug(text: str, scheme: str) -> str:
    if slug := terms.slug_for(scheme, text):
        return slug
    if near := ", ".join(terms.near(scheme, text)):
        raise ValueError(
            _("a term of the list '{list}'. Near terms: {terms}.").format(list=scheme, terms=near)
        )
    known = ", ".join(sorted(terms.all_concepts()[scheme]))
    raise ValueError(
        _("a term of the list '{list}'. The terms are: {terms}.").format(list=scheme, terms=known)
    )


def _record(written: _Written) -> _Understood:
    if written.column.many:
        return _Understood([Mention(piece) for piece in written.pieces(";")])
    return _Understood(Mention(written.text))


def _listed(reader: Callable[[str], Listed]) -> Callable[[_Written], _Understood]:
    def read(written: _Written) -> _Understood:
        found = reader(written.figures)
        return _Understood(found.parts, found.doubts)

    return read


_READERS: dict[Holds, Callable[[_Written], _Understood]] = {
    Holds.IDENTIFIER: lambda written: _Understood(written.text),
    Holds.REVISION: _whole,
    Holds.TEXT: _text,
    Holds.LENGTH: _length,
    Holds.ANGLE: _angle,
    Holds.NUMBER: _number,
    Holds.COUNT: _whole,
    Holds.FLAG: _flag,
    Holds.DATE: _date,
    Holds.TERM: _term,
    Holds.RECORD: _record,
    Holds.STAGE: lambda written: _Understood(StageMention(written.text)),
    Holds.HOLES: lambda written: _listed(lambda text: lists.holes(text, written.column.path[1]))(written),
    Holds.STAGES: _listed(lists.stages),
    Holds.STATIONS: _listed(lists.stations),
    Holds.GATHERINGS: _listed(lists.gatherings),
}
