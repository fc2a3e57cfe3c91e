"""Days as numbers and back, against Python's own calendar."""

from __future__ import annotations

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from guardbook.evidence.days import day_number, day_of, from_words, until_words

START = day_number((1, 1, 1))


@given(st.dates())
def test_days_are_numbered_as_pythons_calendar_does(date: dt.date) -> None:
    day = (date.year, date.month, date.day)
    assert day_number(day) - START + 1 == date.toordinal()
    assert day_of(day_number(day)) == day


@given(st.integers(-(10**9), 10**9))
def test_every_number_is_a_day_even_before_the_common_era(number: int) -> None:
    assert day_number(day_of(number)) == number


def test_years_before_the_common_era_are_written_with_a_sign() -> None:
    assert (from_words((-44, 3, 15)), until_words((-44, 12, 31))) == ("-0044-03-15", "-0044")
