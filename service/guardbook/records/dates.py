"""Dates as EDTF (ISO 8601-2:2019, levels 0 to 2): checked, and turned into earliest and latest days.

Parsing is done by the `edtf` package. Its known slips are guarded here: an unknown end (`1985/`) is given
no invented ten years, a half-known month or day (`1984-1X`) does not crash it, an interval that runs
backwards is refused. The `~` and `?` of a date never widen its bounds: how far "about" reaches is not in
the standard. Significant digits (`1953S2`) bound the years between which the date lies.
"""

from __future__ import annotations

import calendar
import re
from dataclasses import dataclass
from functools import lru_cache

from edtf import EDTFParseException, parse_edtf

from guardbook.wording import _, said_later

Day = tuple[int, int, int]

_HALF_KNOWN = re.compile(r"(?P<year>-?\d{4})-(?P<month>[01]X|\d\d)(?:-(?P<day>[0-3]X|XX|\d\d))?[~?%]?")
_SEASON = re.compile(r"(?P<year>-?\d{4})-(?:2[1-9]|3\d|4[01])[~?%]?")
_SIGNIFICANT = re.compile(r"S\d+$")
_MENDS = (
    (re.compile(r"\d{1,2}[./]\d{1,2}[./]\d{4}"), said_later("Write year-month-day: 1712-03-05.")),
    (
        re.compile(r"(?i)(c\.?|ca\.?|circa|about|um|vers|hacia|cap a)\s*\d{4}"),
        said_later("Write about 1560 as 1560~."),
    ),
    (
        re.compile(r"(?i).*\b(cent|s\.|jh|siècle|siglo|segle|secolo).*"),
        said_later("Write the 16th century as 15XX."),
    ),
    (re.compile(r"\d{4}\s*[-\u2013]\s*\d{2,4}"), said_later("Write from 1510 to 1520 as 1510/1520.")),
    (re.compile(r"(?i)(before|ante|vor|avant)\b.*"), said_later("Write before 1600 as ../1600.")),
    (re.compile(r"(?i)(after|post|nach|après)\b.*"), said_later("Write after 1600 as 1600/...")),
)


@dataclass(frozen=True)
class Bounds:
    """The earliest and latest day a date allows, as (year, month, day); None where it is open or unknown."""

    earliest: Day | None
    latest: Day | None


@lru_cache(maxsize=4096)
def bounds(text: str) -> Bounds:
    """Give the bounds of an EDTF date.

    Raises ValueError, saying what to write instead, when the text is no EDTF or runs backwards. A season
    bounds its whole year, since tools differ on which months a season holds.

    >>> bounds("156X")
    Bounds(earliest=(1560, 1, 1), latest=(1569, 12, 31))
    """
    if text != text.strip() or not text:
        raise ValueError(_("an EDTF date without spaces around it"))
    if text.count("/") == 1:
        start, end = (_side(part) for part in text.split("/"))
        if text in {"/", "../..", "../", "/.."}:
            raise ValueError(_("an EDTF date that says something; leave the field empty if nothing is known"))
        found = Bounds(start.earliest, end.latest)
        if found.earliest and found.latest and found.earliest > found.latest:
            raise ValueError(_("an interval that runs forwards (the earlier date first)"))
        return found
    return _one(text)


def _side(text: str) -> Bounds:
    return Bounds(None, None) if text in {"", ".."} else _one(text)


def _one(text: str) -> Bounds:
    if season := _SEASON.fullmatch(text):
        year = int(season["year"])
        return Bounds((year, 1, 1), (year, 12, 31))
    if (half := _HALF_KNOWN.fullmatch(text)) and re.search(r"-[0-3]X", text):
        return _half_known(half)
    try:
        parsed = parse_edtf(text)
    except (EDTFParseException, ValueError, AttributeError) as error:
        raise ValueError(_expected(text)) from error
    if _SIGNIFICANT.search(text):
        return Bounds(_day(parsed.lower_fuzzy()), _day(parsed.upper_fuzzy()))
    found = Bounds(_day(parsed.lower_strict()), _day(parsed.upper_strict()))
    if found.earliest and found.latest and found.earliest > found.latest:
        raise ValueError(_("a set whose dates run forwards (the earlier date first)"))
    return found


def _half_known(half: re.Match[str]) -> Bounds:
    """Bound a month such as 1X (10 to 12) or a day such as 2X, which the parser cannot read."""
    year = int(half["year"])
    months = _choices(half["month"], 12)
    if not months:
        raise ValueError(_("a month between 01 and 12"))
    if not half["day"]:
        return Bounds((year, months[0], 1), (year, months[-1], _last_day(year, months[-1])))
    days = [(year, month, day) for month in months for day in _choices(half["day"], _last_day(year, month))]
    if not days:
        raise ValueError(_("a day that the month has"))
    return Bounds(days[0], days[-1])


def _choices(pattern: str, most: int) -> list[int]:
    expression = re.compile(pattern.replace("X", r"\d"))
    return [number for number in range(1, most + 1) if expression.fullmatch(f"{number:02}")]


def _last_day(year: int, month: int) -> int:
    return calendar.monthrange(year, month)[1] if year > 0 else 31


def _day(found: object) -> Day | None:
    """Turn the parser's struct_time into a day; its infinities mean an open side."""
    if isinstance(found, float):
        return None
    year, month, day = tuple(found)[:3]  # type: ignore[arg-type, var-annotated]  # struct_time, untyped there
    return (year, month, day)


def _expected(text: str) -> str:
    mends = [mend for pattern, mend in _MENDS if pattern.fullmatch(text)]
    hint = _(mends[0]) if mends else _("Examples: 1712, 1560~, 15XX, 1510/1520, ../1600.")
    expected = _("a date in EDTF (ISO 8601-2)")
    return f"{expected}. {hint}"


def checked(text: str) -> str:
    """Give the text back if it is an EDTF date, else raise ValueError saying what was expected."""
    bounds(text)
    return text
