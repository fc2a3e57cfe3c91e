"""How what was found lies in time: how many records may be of each run of years."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import chain

from guardbook.catalogue.access import Access
from guardbook.catalogue.facets import OPEN_AFTER, OPEN_BEFORE

MOST_RUNS = 10
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)


@dataclass(frozen=True)
class Run:
    """A run of years, first and last, and how many records may be of them."""

    first: int
    last: int
    count: int


def dates_found(
    access: Access, words: str = "", *, kind: str | None = None, facets: Mapping[str, str] | None = None
) -> tuple[Run, ...]:
    """Give runs of years, all of one round length, that together hold every date found; none undated.

    The date that was asked for is left aside, so that one sees what lies around it; an open side of a date
    goes on to the end.
    """
    asked = {name: value for name, value in (facets or {}).items() if name != "date"}
    spans = [(year_of(first), year_of(last)) for first, last in access.spans(words, kind, asked)]
    bounded = [year for year in chain.from_iterable(spans) if year is not None]
    if not bounded:
        return ()
    first, last = min(bounded), max(bounded)
    years = step(first, last, MOST_RUNS)
    starts = range(first // years * years, last + 1, years)
    return tuple(Run(start, start + years - 1, _count(spans, start, start + years - 1)) for start in starts)


def step(first: int, last: int, most: int) -> int:
    """Give the smallest round number of years that parts these into at most so many runs."""
    return next((one for one in _STEPS if last // one - first // one < most), 10 * _STEPS[-1])


def year_of(day: int) -> int | None:
    """Give the year of a bound (see `facets.span`), None for an open one."""
    return None if day in {OPEN_BEFORE, OPEN_AFTER} else (day - day % 10000) // 10000


def _count(spans: list[tuple[int | None, int | None]], first: int, last: int) -> int:
    return sum((end is None or end >= first) and (start is None or start <= last) for start, end in spans)
