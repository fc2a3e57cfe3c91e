"""Dates as people write them, turned into EDTF: `5.3.1712`, `c. 1560`, `s. XVI`, `1510-1520`, `March 2024`.

What has one reading is read; what has two (`03/04/1712`, `1510-25`) is read as the likelier one and tells
the other, so that the person can be asked. Anything else is left to `records.dates`, which says what it
expects. `EDTF` before a date says that it is meant as it stands.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

from guardbook.intake.words import words
from guardbook.records import dates

_MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_MARKED = re.compile(r"EDTF[ :]", re.IGNORECASE)
_SHORT_RANGE = re.compile(r"(?P<from>\d{4})-(?P<to>\d{2})", re.ASCII)
_LONG_RANGE = re.compile(r"(?P<from>\d{4})\s*[-\u2013\u2014]\s*(?P<to>\d{4})", re.ASCII)
_SPACED_SHORT_RANGE = re.compile(r"(?P<from>\d{4})\s*[\u2013\u2014]\s*(?P<to>\d{2})", re.ASCII)
_YEAR_FIRST = re.compile(r"(?P<year>\d{4})[/.](?P<month>\d{1,2})[/.](?P<day>\d{1,2})", re.ASCII)
_YEAR_LAST = re.compile(
    r"(?P<one>\d{1,2})\s*(?P<mark>[./-])\s*(?P<two>\d{1,2})\s*(?P=mark)\s*(?P<year>\d{4})", re.ASCII
)
_CENTURY_BEFORE = re.compile(
    r"(?P<number>\d{1,2}|[ivx]+)\s*(?:st|nd|rd|th|\.|e|è|o|º)?\s+(?P<word>[^\W\d]+)\.?"
)
_CENTURY_AFTER = re.compile(r"(?P<word>[^\W\d]+)\.?\s*(?P<number>[ivx]+)")
_WORD_AND_YEAR = re.compile(r"(?P<word>[^\d]+?)\s*(?P<year>\d{4})", re.ASCII)
_DAY_MONTH_YEAR = re.compile(
    r"(?:(?P<day>\d{1,2})\.?\s+)?(?:de\s+|d')?(?P<month>[^\W\d]+)\.?,?\s+(?:de\s+|del\s+)?(?P<year>\d{4})"
)
_MONTH_DAY_YEAR = re.compile(r"(?P<month>[^\W\d]+)\.?\s+(?P<day>\d{1,2})(?:st|nd|rd|th)?,?\s+(?P<year>\d{4})")


@dataclass(frozen=True)
class Dated:
    """An EDTF date as it was read; `or_else` is the other reading, empty where there is none."""

    value: str
    or_else: str = ""


def date_written(text: str) -> Dated:
    """Read a date. Raises ValueError saying what was expected.

    >>> date_written("c. 1560").value
    '1560~'
    >>> date_written("03/04/1712")
    Dated(value='1712-04-03', or_else='1712-03-04')
    >>> date_written("EDTF 1711-23").value  # the autumn of 1711, and nothing else
    '1711-23'
    """
    written = " ".join(text.split())
    if _MARKED.match(written):
        return Dated(dates.checked(_MARKED.sub("", written)))
    for reader in _READERS:
        if (found := reader(written)) is not None:
            return Dated(dates.checked(found.value), found.or_else)
    return Dated(dates.checked(written))


def _short_range(text: str) -> Dated | None:
    """Read `1510-25`: a month where it can only be one, a range of years where it can only be one."""
    found = _SHORT_RANGE.fullmatch(text) or _SPACED_SHORT_RANGE.fullmatch(text)
    if not found:
        return None
    end, span = int(found["to"]), f"{found['from']}/{found['from'][:2]}{found['to']}"
    forwards = end > int(found["from"][2:])
    if 1 <= end <= 12 and "-" in text:
        return Dated(text, span if forwards else "")
    if not forwards:
        return None
    # 21 to 41 are seasons and quarters in EDTF level 2; few write them so
    return Dated(span, text if 21 <= end <= 41 and "-" in text else "")


def _long_range(text: str) -> Dated | None:
    found = _LONG_RANGE.fullmatch(text)
    return Dated(f"{found['from']}/{found['to']}") if found else None


def _year_first(text: str) -> Dated | None:
    found = _YEAR_FIRST.fullmatch(text)
    return Dated(_day(found["year"], found["month"], found["day"])) if found else None


def _year_last(text: str) -> Dated | None:
    """Read `5.3.1712`. With points the day stands first in every locale of the CLDR (from memory)."""
    found = _YEAR_LAST.fullmatch(text)
    if not found:
        return None
    one, two = int(found["one"]), int(found["two"])
    day_first = _day(found["year"], found["two"], found["one"])
    month_first = _day(found["year"], found["one"], found["two"])
    if two > 12 >= one and found["mark"] != ".":
        return Dated(month_first)
    doubtful = found["mark"] != "." and one <= 12 and one != two
    return Dated(day_first, month_first if doubtful else "")


def _day(year: str, month: str, day: str) -> str:
    return f"{year}-{int(month):02}-{int(day):02}"


def _century(text: str) -> Dated | None:
    lowered = text.casefold()
    for pattern in (_CENTURY_BEFORE, _CENTURY_AFTER):
        found = pattern.fullmatch(lowered)
        if found and found["word"] in _forms("century") and (number := _count(found["number"])):
            return Dated(f"{number - 1:02}XX")
    return None


def _count(text: str) -> int:
    if text.isdigit():
        return int(text)
    roman: list[str] = words()["dates"]["roman"]
    return roman.index(text) + 1 if text in roman else 0


def _about(text: str) -> Dated | None:
    found = _WORD_AND_YEAR.fullmatch(text.casefold())
    if not found:
        return None
    word, year = found["word"].rstrip(". "), found["year"]
    forms = {"about": f"{year}~", "before": f"../{year}", "after": f"{year}/.."}
    return next((Dated(value) for name, value in forms.items() if word in _forms(name)), None)


def _with_month(text: str) -> Dated | None:
    lowered = text.casefold()
    found = _DAY_MONTH_YEAR.fullmatch(lowered) or _MONTH_DAY_YEAR.fullmatch(lowered)
    month = next((at for at, name in enumerate(_MONTHS, 1) if found and found["month"] in _forms(name)), 0)
    if not found or not month:
        return None
    if not found["day"]:
        return Dated(f"{found['year']}-{month:02}")
    return Dated(_day(found["year"], str(month), found["day"]))


@lru_cache(maxsize=32)
def _forms(name: str) -> frozenset[str]:
    return frozenset(word.casefold() for word in words()["dates"][name])


_READERS: Iterable[Callable[[str], Dated | None]] = (
    _short_range, _long_range, _year_first, _year_last, _century, _about, _with_month,
)  # fmt: skip


def unmistakable(date: str) -> str:
    """Write an EDTF date so that it has one reading: marked as such where people write other things so.

    >>> unmistakable("1560~"), unmistakable("1711-23")
    ('1560~', 'EDTF 1711-23')
    """
    return date if date_written(date) == Dated(date) else f"EDTF {date}"


def from_day(day: dt.date) -> str:
    """Give a day of the spreadsheet's own calendar as EDTF; a time of day is left out.

    >>> from_day(dt.datetime(2024, 3, 5, 14, 30))
    '2024-03-05'
    """
    return f"{day.year:04}-{day.month:02}-{day.day:02}"
