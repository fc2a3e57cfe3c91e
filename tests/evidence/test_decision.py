"""A decision laid out: options side by side, the consent, and never a word of advice."""

from __future__ import annotations

import re
from typing import Any

from guardbook.evidence.decision import DecisionSheet, arithmetic, decision_sheet
from guardbook.evidence.effects import option_table
from guardbook.evidence.owner_text import owner_text
from guardbook.records import terms
from guardbook.records.agent import Agent
from guardbook.records.base import Record
from guardbook.records.decision import Decision
from tests.binding.bench import at, dossier, iri, made, piece, placing, separation, volume

STRIP = iri("fragment", "Strip")
OPTIONS = ("leave-in-place", "lift-and-return", "separate-keep-with-volume", "separate-keep-elsewhere")


def sheet(*more: Record, fixed: str = "adhered-starch", **fields: Any) -> DecisionSheet:
    """Lay out a decision about a measured strip, with two options and two criteria."""
    owner = made(Agent, "Owner", name="Nell")
    scores = {(1, 1): "0", (1, 2): "5", (2, 1): "4", (2, 2): "2"}
    given = {
        "about": [STRIP],
        "question": "Lift it?",
        "options": [
            {"id": f"#option-{n}", "optionKind": kind} for n, kind in enumerate(OPTIONS[:2], start=1)
        ],
        "criteria": [
            {"id": "#criterion-1", "name": "Access", "weight": "1"},
            {"id": "#criterion-2", "name": "Risk", "weight": "2"},
        ],
        "scores": [
            {
                "id": f"#score-{n}",
                "forOption": f"#option-{o}",
                "forCriterion": f"#criterion-{c}",
                "value": value,
            }
            for n, ((o, c), value) in enumerate(scores.items(), start=1)
        ],
        "by": [owner.id],
        **fields,
    }
    decision = made(Decision, "Strip", **{key: value for key, value in given.items() if value is not None})
    place = at("0", "0", layer=1, visibleInPlace="partly-hidden")
    put = placing("in", "Strip", "Book", 1, place, fixings=[fixed], function="sewing-guard")
    records = (volume("Book", None, None), piece("Strip"), put, owner, decision, *more)
    return decision_sheet(dossier(*records), decision)


def test_what_each_option_puts_out_of_reach_is_worked_out_from_the_record() -> None:
    off = separation("off", "Strip", "Book", 2, examinations=["read-hidden-face"])
    stay, lift = sheet().options
    assert "reading the hidden face" in stay.out_of_reach
    assert any(name.startswith("thickness") for name in lift.out_of_reach)
    assert "reading the hidden face" not in sheet(off).options[0].out_of_reach


def test_what_is_planned_to_be_done_while_it_is_lifted_is_not_put_out_of_reach_by_lifting() -> None:
    off = separation("off", "Strip", "Book", 2, status="planned", examinations=["read-hidden-face"])
    stay, lift = sheet(off).options
    assert "reading the hidden face" in stay.reach
    assert "reading the hidden face" not in lift.reach
    assert "transmitted light" in lift.reach
    assert "Within reach while it is lifted" in lift.reach
    assert "Within reach while it is lifted" not in stay.reach


def test_effects_name_what_the_record_says_of_place_fixing_work_and_sight() -> None:
    words = sheet(fixed="sewn-separately").words()
    assert "its place is measured, and no image shows it there" in words
    assert "sewn separately" in words
    assert "serving as sewing guard" in words
    assert "partly hidden" in words


def test_every_option_that_a_record_can_name_has_its_effects() -> None:
    table = option_table()
    assert set(table.options) == set(terms.of_scheme("option")) == set(OPTIONS)
    assert all(set(row.words) == set(table.aspects) for row in table.options.values())


def test_the_ranking_says_which_weight_would_change_it_and_by_how_much() -> None:
    words = sheet().words()
    assert "1. leave in place (3.33)" in words
    assert "If “Access” weighed 1.5 instead of 1 (0.5 more), “lift and return” would draw level" in words


def test_the_tool_never_says_what_to_do() -> None:
    found = sheet()
    advice = re.compile(r"\b(should|recommend\w*|advise|best|ought|do this|must be chosen)\b", re.IGNORECASE)
    assert not advice.search(found.words())
    assert not advice.search(owner_text(found))
    assert arithmetic() in found.words()


def test_where_no_single_weight_can_change_the_first_place_it_says_so() -> None:
    same = [
        {"id": f"#score-{n}", "forOption": f"#option-{o}", "forCriterion": f"#criterion-{c}", "value": value}
        for n, (o, c, value) in enumerate([(1, 1, "5"), (1, 2, "5"), (2, 1, "2"), (2, 2, "2")], start=1)
    ]
    assert "No change of a single weight would change the first place." in sheet(scores=same).words()


def test_consent_is_told_with_who_and_when() -> None:
    found = sheet(
        choice="#option-1", reasons="Safer.", consentBy=iri("agent", "Owner"), consentWhen="2025-02-10"
    )
    assert "Consent given by Owner, 2025-02-10." in found.words()
    assert "What was chosen: leave in place. Reasons: Safer. Consent given by Owner" in owner_text(found)
    assert found.notes == ()


def test_a_choice_without_consent_or_reasons_is_noted() -> None:
    found = sheet(choice="#option-1")
    assert [note.split(".")[0] for note in found.notes] == [
        "A choice is recorded without the owner's consent",
        "A choice is recorded without its reasons",
    ]


def test_nothing_chosen_is_said_so_and_the_owner_is_asked() -> None:
    found = sheet()
    assert "Nothing has been chosen yet." in found.words()
    assert "Please tell us what you prefer" in owner_text(found)


def test_what_is_not_scored_or_not_weighed_is_told() -> None:
    found = sheet(scores=None, criteria=[{"id": "#criterion-1", "name": "Time"}])
    assert "Nothing is weighed yet." in found.words()
    assert any("has no weight" in note for note in found.notes)
    assert any("not every option has a score" in note for note in found.notes)


def test_the_sheet_as_data_holds_what_its_words_say() -> None:
    data = sheet().as_json()
    assert data["ranking"] == [["#option-1"], ["#option-2"]]
    assert data["changes"][0]["exactly"] == "3/2"
    assert data["options"][0]["effects"]
