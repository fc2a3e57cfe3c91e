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
    assert "These two cannot both hold" in ran.out
    assert told("date", "Q24-002").code == 0


def test_a_reading_is_told_with_its_strength(told: Run) -> None:
    assert "Settled: the cover held another book before" in told("evidence", "Q19-014 B").out
    assert told("evidence", "Q19-014 B", "--json").json


def test_examinations_and_options_are_told(told: Run) -> None:
    assert "Only while it is lifted" in told("examinations", "W9V0WB-H").out
    assert "Leave in place" in told("decide", "Q25-002").out
    assert "ways to go on" in told("decide", "Q25-002", "--for-owner").out
    assert told("examinations", "Q21-008").code == 2


def test_a_weight_is_tried_out_from_the_terminal(told: Run) -> None:
    assert "1. lift and return" in told("decide", "Q25-002", "--weight", "criterion-1=6,5").out
    assert told("decide", "Q25-002", "--weight", "criterion-1").code == 0
    assert told("decide", "Q25-002", "--weight", "criterion-77=1").code == 2


def test_a_removal_goes_ahead_with_a_reason(told: Run) -> None:
    open_still = told("before-lifting", "JP617T-K")
    assert open_still.code == 1
    assert "Cannot be recorded later:" in open_still.out
    revision = next(iter(told("history", "JP617T-K", "--json").json))["number"]
    words = ("lift", "JP617T-K", "--revision", revision, "--when", "24.11.2025", "--who", "Mirela")
    assert told(*words).code == 2
    assert "revision 2" in told(*words, "--because", "The joint is giving way.").out
    assert "The joint is giving way." in told("before-lifting", "JP617T-K").out


def test_what_is_on_the_bench_is_told_list_by_list(told: Run) -> None:
    out = told("bench").out
    assert "Open on the bench (3)" in out
    assert "Pieces away from their volume (" in out
    (section,) = told("bench", "--list", "away", "--json").json["sections"]
    assert len(section["items"]) == section["count"] > 10
    assert told("bench", "--list", "elsewhere").code == 2
