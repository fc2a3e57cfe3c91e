"""What can be told of two dates: which day they may begin and end, and whether one is surely the earlier.

How far "about" reaches is in no standard. Where a contradiction hangs on it, a date with `~`, `?` or `%` is
taken to reach `ABOUT_YEARS` further on both sides (a choice of this project, no published source).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from guardbook.records.dates import Day, bounds

ABOUT_YEARS = 20

_BEFORE_ALL: Day = (-(10**15), 1, 1)
_AFTER_ALL: Day = (10**15, 12, 31)


@dataclass(frozen=True, order=True)
class Span:
    """The earliest and the latest day of something, open sides being far away."""

    earliest: Day = _BEFORE_ALL
    latest: Day = _AFTER_ALL

    @property
    def is_known(self) -> bool:
        """Say whether anything is known at all."""
        return self != ANY_TIME

    def surely_before(self, other: Span) -> bool:
        """Say whether this ends before the other begins."""
        return self.latest < other.earliest

    def within(self, other: Span) -> Span:
        """Give what both allow, or this one where they allow nothing together."""
        both = Span(max(self.earliest, other.earliest), min(self.latest, other.latest))
        return both if both.earliest <= both.latest else self


ANY_TIME = Span()


def span(date: str | None) -> Span:
    """Give the days an EDTF date allows; nothing known gives all of time."""
    if date is None:
        return ANY_TIME
    found = bounds(date)
    return Span(found.earliest or _BEFORE_ALL, found.latest or _AFTER_ALL)


@lru_cache(maxsize=4096)
def reach(date: str | None) -> Span:
    """Give the days an EDTF date may stand for when "about" and "perhaps" are given their reach."""
    strict = span(date)
    if date is None or not any(sign in date for sign in "~?%"):
        return strict
    return Span(_moved(strict.earliest, -ABOUT_YEARS), _moved(strict.latest, ABOUT_YEARS))


def _moved(day: Day, years: int) -> Day:
    return day if day in {_BEFORE_ALL, _AFTER_ALL} else (day[0] + years, day[1], day[2])
