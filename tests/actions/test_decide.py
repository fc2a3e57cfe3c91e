"""Laying out decisions of a catalogue."""

from __future__ import annotations

import pytest

from guardbook.actions.decide import decide
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse


def test_the_decision_that_was_taken_shows_what_was_chosen_and_who_consented(demo: Access) -> None:
    found = decide(demo, "decision/VP96S8-T")
    assert found.chosen is not None
    assert found.chosen.option.option_kind == "lift-and-return"
    assert found.consent == "Consent given by Town Archive of Quelmarre, 2025-02-10."
    assert found.chosen.place == 2


def test_the_decision_about_a_piece_is_found_by_the_piece(demo: Access) -> None:
    found = decide(demo, "fragment/R36V3Q-Z")
    assert found.decision.short == "decision/1GDVM6-P"
    assert found.chosen is None


def test_a_piece_about_which_nothing_is_decided_has_no_sheet(demo: Access) -> None:
    with pytest.raises(WrongUse, match="no decision is about it"):
        decide(demo, "fragment/713RW5-4")
