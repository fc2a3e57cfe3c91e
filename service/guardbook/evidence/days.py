"""Days as whole numbers, so that dates can be added and compared exactly, and as words.

A day is divided into `TICKS`, which no clock shows: what comes after something on the same day comes a tick
later, so that a ring of "before" is a contradiction even where all of it may have been on one day.
"""

from __future__ import annotations

import calendar

from guardbook.records.dates import Day

TICKS = 10**6
_ERA_YEARS, _ERA_DAYS = 400, 146_097


def day_number(day: Day) -> int:
    """Give the number of a day in the proleptic Gregorian calendar, 0 for 1 March of the year 0.

    >>> day_number((2020, 1, 1)) - day_number((2019, 1, 1))
    365
    """
    year, month, date = day
    years, months = divmod(month - 3, 12)
    era, of_era = divmod(year + years, _ERA_YEARS)
    within = of_era * 365 + of_era // 4 - of_era // 100 + (153 * months + 2) // 5 + date - 1
    return era * _ERA_DAYS + within


def day_of(number: int) -> Day:
    """Give the day of a number.

    >>> day_of(day_number((1712, 2, 29)))
    (1712, 2, 29)
    """
    era, within = divmod(number, _ERA_DAYS)
    year = (within - within // 1460 + within // 36524 - within // 146096) // 365
    rest = within - (365 * year + year // 4 - year // 100)
    month = (5 * rest + 2) // 153
    date = rest - (153 * month + 2) // 5 + 1
    return era * _ERA_YEARS + year + (month >= 10), (month + 2) % 12 + 1, date


def first_tick(day: Day) -> int:
    """Give the first tick of a day."""
    return day_number(day) * TICKS


def last_tick(day: Day) -> int:
    """Give the last tick of a day."""
    return first_tick(day) + TICKS - 1


def day_at(tick: int) -> Day:
    """Give the day of a tick."""
    return day_of(tick // TICKS)


def from_words(day: Day) -> str:
    """Write a day that something is not before: no finer than it says.

    >>> from_words((1712, 1, 1)), from_words((1712, 3, 1)), from_words((1712, 3, 5))
    ('1712', '1712-03', '1712-03-05')
    """
    year, month, date = day
    return (
        _year(year) if (month, date) == (1, 1) else _finer(day) if date > 1 else f"{_year(year)}-{month:02}"
    )


def until_words(day: Day) -> str:
    """Write a day that something is not after: no finer than it says.

    >>> until_words((1712, 12, 31)), until_words((1712, 2, 29)), until_words((1712, 3, 5))
    ('1712', '1712-02', '1712-03-05')
    """
    year, month, date = day
    if (month, date) == (12, 31):
        return _year(year)
    is_last = year > 0 and date == calendar.monthrange(year, month)[1]
    return f"{_year(year)}-{month:02}" if is_last else _finer(day)


def _finer(day: Day) -> str:
    year, month, date = day
    return f"{_year(year)}-{month:02}-{date:02}"


def _year(year: int) -> str:
    return f"{year:04}" if year >= 0 else f"-{-year:04}"
