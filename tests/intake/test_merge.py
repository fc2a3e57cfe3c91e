"""Rows laid over what is known already: nothing is lost."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.intake.drafts import Findings, RowDraft
from guardbook.intake.merge import laid_over

KNOWN = {"id": "fragment/7K3QM2-J", "type": "Fragment", "height": "45.5", "note": "torn"}
HOLES = [
    {"id": "#feature-4", "featureKind": "sewing-hole", "y": "12", "diameter": "1.2"},
    {"id": "#feature-5", "featureKind": "sewing-hole", "y": "48.50"},
]


def row(**said: Any) -> RowDraft:
    cells = {name: f"cell of {name}" for part in said.values() for name in part}
    return RowDraft(kind="fragment", row="row 2", where="row 2", cells=cells, **{"values": {}, **said})


def laid(known: dict[str, Any], draft: RowDraft) -> tuple[dict[str, Any], list[str]]:
    findings = Findings()
    merged = laid_over(known, draft, dict(draft.values), dict(draft.parts), findings)
    return merged, [fault.where for fault in findings.faults]


def test_an_empty_cell_leaves_a_field_as_it_is() -> None:
    merged, faults = laid(KNOWN, row(values={"width": "12"}))
    assert (merged, faults) == ({**KNOWN, "width": "12"}, [])


def test_the_one_position_of_a_placing_is_filled_up() -> None:
    known = {"positions": [{"id": "#position-3", "x": "1"}]}
    merged, _ = laid(known, row(parts={"positions": {"y": "2"}}))
    assert merged["positions"] == [{"id": "#position-3", "x": "1", "y": "2"}]


def test_a_row_cannot_tell_one_of_two_positions() -> None:
    known = {"positions": [{"id": "#position-1"}, {"id": "#position-2"}]}
    merged, faults = laid(known, row(parts={"positions": {"y": "2"}}))
    assert (merged, faults) == (known, ["cell of positions"])


def test_holes_of_a_new_kind_are_added_each_row_in_a_series() -> None:
    holes = tuple({"featureKind": "tacket-hole", "y": y, "inSeries": at} for at, y in enumerate("59"))
    known = {"features": HOLES, "series": [{"id": "#series-1"}]}
    merged, faults = laid(known, row(lists={"features": holes}))
    assert [part.get("inSeries") for part in merged["features"]] == [None, None, "#series-2", "#series-3"]
    assert [part["id"] for part in merged["series"]] == ["#series-1", "#series-2", "#series-3"]
    assert faults == []


def test_the_same_holes_again_change_nothing() -> None:
    again = tuple({"featureKind": "sewing-hole", "y": y, "inSeries": 0} for y in ("48.5", "12"))
    merged, faults = laid({"features": HOLES}, row(lists={"features": again}))
    assert (merged["features"], faults) == (HOLES, [])


@pytest.mark.parametrize("heights", [("12",), ("12", "49"), ("12", "48.5", "97")])
def test_other_holes_of_a_kind_are_never_written_over(heights: tuple[str, ...]) -> None:
    others = tuple({"featureKind": "sewing-hole", "y": y, "inSeries": 0} for y in heights)
    merged, faults = laid({"features": HOLES}, row(lists={"features": others}))
    assert (merged["features"], faults) == (HOLES, ["cell of features"])


def test_an_answer_takes_the_place_of_an_earlier_one() -> None:
    known = {"answers": [{"id": "#answer-1", "asked": "thickness", "answer": "not-applicable"}]}
    merged, _ = laid(known, row(answers={"thickness": "looked-for-not-found"}))
    assert merged["answers"] == [{"asked": "thickness", "answer": "looked-for-not-found"}]


def test_the_same_answer_again_keeps_its_name_and_reason() -> None:
    known = {
        "answers": [
            {"id": "#answer-1", "asked": "thickness", "answer": "not-applicable", "reason": "a thread"}
        ]
    }
    assert laid(known, row(answers={"thickness": "not-applicable"}))[0] == known


def test_a_value_takes_the_place_of_an_answer() -> None:
    known = {"answers": [{"id": "#answer-1", "asked": "thickness", "answer": "not-applicable"}]}
    assert laid(known, row(values={"thickness": "0.3"}))[0] == {"thickness": "0.3"}


def test_an_answer_is_no_way_to_take_a_value_out() -> None:
    _, faults = laid(KNOWN, row(answers={"height": "looked-for-not-found"}))
    assert faults == ["cell of height"]
