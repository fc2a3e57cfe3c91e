"""What can still be examined of what is in a catalogue."""

from __future__ import annotations

import pytest

from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse


def test_the_planned_removal_of_the_pastedown_has_all_but_transmitted_light_decided(demo: Access) -> None:
    found = examinations_of_event(demo, "separation/W9V0WB-H")
    assert [one.row.slug for one in found.in_state("only-now")] == ["transmitted-light"]
    assert examinations_of_event(demo, "fragment/66WKRM-5").event == found.event


def test_what_nobody_looked_at_is_out_of_reach_now_that_the_strip_is_back(demo: Access) -> None:
    found = examinations_of_event(demo, "placing/T8HVC2-G")
    assert [one.row.slug for one in found.in_state("out-of-reach")] == ["light-hidden-face"]


def test_a_piece_that_never_left_has_no_removal_to_ask_about(demo: Access) -> None:
    with pytest.raises(WrongUse, match="nor a piece that has one"):
        examinations_of_event(demo, "fragment/713RW5-4")
