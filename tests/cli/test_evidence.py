"""Dates, readings, examinations and options from the terminal."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Run


@pytest.fixture
def told(run: Run) -> Run:
    """Give the command on a catalogue that holds the demo too."""
    run("demo")
    return run


def test_dates_that_cannot_all_hold_end_with_one(told: Run) -> None:
    ran = told("date", "Q21-008")
    assert ran.code == 1
    assert "cannot all hold" in ran.out
    assert told("date", "Q24-002").code == 0


def test_a_reading_is_told_with_its_strength(told: Run) -> None:
    assert "Settled: the cover held another book before" in told("evidence", "Q19-014 B").out
    assert told("evidence", "Q19-014 B", "--json").json


def test_examinations_and_options_are_told(told: Run) -> None:
    assert "Only while it is lifted" in told("examinations", "W9V0WB-H").out
    assert "Leave in place" in told("decide", "Q25-002").out
    assert "ways to go on" in told("decide", "Q25-002", "--for-owner").out
    assert told("examinations", "Q21-008").code == 2
