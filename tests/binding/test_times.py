"""What can be told of two dates."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.times import ABOUT_YEARS, ANY_TIME, reach, span
from tests.records.strategies import DATES


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        ("1510", "1511", True),
        ("1510", "1510", False),
        ("151X", "1515", False),
        ("1510/1520", "1521-03", True),
        ("1510~", "1525", False),
        ("1510~", "1531", True),
        ("../1600", "1650", True),
        ("1600/..", "1650", False),
        ("1510", None, False),
    ],
)
def test_a_date_is_surely_earlier_only_where_no_reading_of_it_is_later(
    first: str, second: str | None, told: bool
) -> None:
    assert reach(first).surely_before(reach(second)) is told


def test_about_reaches_as_far_as_we_say() -> None:
    assert reach("1510~").earliest[0] == 1510 - ABOUT_YEARS
    assert reach("1510~").latest[0] == 1510 + ABOUT_YEARS
    assert reach("1510") == span("1510")


@given(one=st.sampled_from(DATES), other=st.sampled_from(DATES))
def test_two_dates_are_never_each_before_the_other(one: str, other: str) -> None:
    assert not (reach(one).surely_before(reach(other)) and reach(other).surely_before(reach(one)))


@given(date=st.sampled_from(DATES))
def test_narrowing_never_leaves_nothing(date: str) -> None:
    for other in DATES:
        narrowed = span(date).within(span(other))
        assert narrowed.earliest <= narrowed.latest
    assert span(date).within(ANY_TIME) == span(date)
