"""Dates as people write them in spreadsheets."""

from __future__ import annotations

import datetime as dt
import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.intake import when, words
from guardbook.intake.when import Dated, date_written, from_day


def test_the_examples_in_the_text_are_true() -> None:
    assert doctest.testmod(when).failed + doctest.testmod(words).failed == 0


@pytest.mark.parametrize(
    ("text", "edtf"),
    [
        ("1712", "1712"),
        ("1510~/1520~", "1510~/1520~"),
        ("c. 1560", "1560~"),
        ("ca 1560", "1560~"),
        ("vers 1560", "1560~"),
        ("before 1600", "../1600"),
        ("nach 1600", "1600/.."),
        ("16th century", "15XX"),
        ("s. XVI", "15XX"),
        ("16. Jh.", "15XX"),
        ("XVIe siècle", "15XX"),
        ("1510-1520", "1510/1520"),
        ("1510–25", "1510/1525"),
        ("1510-50", "1510/1550"),
        ("1510-05", "1510-05"),
        ("5.3.1712", "1712-03-05"),
        ("13/04/1712", "1712-04-13"),
        ("04/13/1712", "1712-04-13"),
        ("2024/03/05", "2024-03-05"),
        ("5 de març de 2024", "2024-03-05"),
        ("March 5, 2024", "2024-03-05"),
        ("März 2024", "2024-03"),
    ],
)
def test_a_date_with_one_reading_is_read(text: str, edtf: str) -> None:
    assert date_written(text) == Dated(edtf)


@pytest.mark.parametrize(
    ("text", "value", "other"),
    [
        ("03/04/1712", "1712-04-03", "1712-03-04"),
        ("3-4-1712", "1712-04-03", "1712-03-04"),
        ("1510-25", "1510/1525", "1510-25"),
        ("1510-12", "1510-12", "1510/1512"),
    ],
)
def test_a_date_with_two_readings_tells_both(text: str, value: str, other: str) -> None:
    assert date_written(text) == Dated(value, other)


@pytest.mark.parametrize("text", ["1/2/24", "long ago", "31.13.2024", "1712-02-30", "1520-1510", "sec. XXX"])
def test_a_text_that_is_no_date_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"date|forwards"):
        date_written(text)


@given(day=st.dates())
def test_a_day_of_a_calendar_is_read_back_as_itself(day: dt.date) -> None:
    assert date_written(from_day(day)).value == day.isoformat()
