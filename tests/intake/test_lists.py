"""Lists that people write within one cell."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.intake import lists


def test_the_examples_in_the_text_are_true() -> None:
    assert doctest.testmod(lists).failed == 0


def test_rows_of_holes_keep_their_distance_from_the_edge_and_their_row() -> None:
    found = lists.holes("x 30: 12 48,5 | X=34,5: 97", "sewing-hole").parts
    assert [(hole["x"], hole["y"], hole["inSeries"]) for hole in found] == [
        ("30", "12", 0),
        ("30", "48.5", 0),
        ("34.5", "97", 1),
    ]


def test_holes_without_a_distance_from_the_edge_have_only_a_height() -> None:
    assert lists.holes("12; 48", "tacket-hole").parts == (
        {"featureKind": "tacket-hole", "y": "12", "inSeries": 0},
        {"featureKind": "tacket-hole", "y": "48", "inSeries": 0},
    )


def test_a_single_height_with_a_comma_is_asked_about() -> None:
    assert lists.holes("12,5", "sewing-hole").doubts == (("12.5", "12 and 5"),)


@given(heights=st.lists(st.integers(0, 400), min_size=1, max_size=8))
def test_sewing_stations_are_read_from_the_tail(heights: list[int]) -> None:
    found = lists.stations("; ".join(map(str, heights))).parts
    assert [station["y"] for station in found] == [str(height) for height in heights]


@pytest.mark.parametrize(
    ("text", "leaves"),
    [("3", [None, None, None]), ("2 x 8", [8, 8]), ("8 8 6", [8, 8, 6]), ("8; 6", [8, 6])],
)
def test_gatherings_are_counted_or_listed(text: str, leaves: list[int | None]) -> None:
    found = lists.gatherings(text).parts
    assert [gathering["number"] for gathering in found] == list(range(1, len(leaves) + 1))
    assert [gathering.get("leafCount") for gathering in found] == leaves


def test_stages_are_read_with_their_dates_in_any_language() -> None:
    found = lists.stages("1 bound 1510~; 2 as received 2024\n3 after treatment 5.3.2024").parts
    assert found == (
        {"number": 1, "stageKind": "bound", "when": "1510~"},
        {"number": 2, "stageKind": "as-received", "when": "2024"},
        {"number": 3, "stageKind": "after-treatment", "when": "2024-03-05"},
    )


def test_stages_without_numbers_are_numbered_in_order() -> None:
    assert [stage["number"] for stage in lists.stages("bound; as received").parts] == [1, 2]


@pytest.mark.parametrize(
    ("reader", "text", "expected"),
    [
        (lists.stages, "1 bond 1510", "Near terms: bound"),
        (lists.stages, "1 bound whenever", "date in EDTF"),
        (lists.gatherings, "0", "1 to 500"),
        (lists.gatherings, "9999", "1 to 500"),
        (lists.gatherings, "4,5 x", "number"),
        (lists.stations, "head", "number"),
    ],
)
def test_a_list_that_cannot_be_read_says_what_was_expected(reader: object, text: str, expected: str) -> None:
    assert callable(reader)
    with pytest.raises(ValueError, match=expected):
        reader(text)


def test_a_hole_out_of_line_is_written_as_a_point() -> None:
    found = lists.holes("x 30: 12 97 (34, 60) | (1,5; 2)", "wormhole").parts
    assert [(one["x"], one["y"], one["inSeries"]) for one in found] == [
        ("30", "12", 0),
        ("30", "97", 0),
        ("34", "60", 0),
        ("1.5", "2", 1),
    ]


def test_folds_run_across_along_or_from_point_to_point() -> None:
    found = lists.folds("97, 12,5 x 30 (0, 40)-(20, 60)", width="20", height="120").parts
    assert [(one["x"], one["y"], one["toX"], one["toY"]) for one in found] == [
        ("0", "97", "20", "97"),
        ("0", "12.5", "20", "12.5"),
        ("30", "0", "30", "120"),
        ("0", "40", "20", "60"),
    ]


def test_folds_of_a_piece_whose_size_nobody_knows_have_no_ends() -> None:
    assert lists.folds("97 x 30").parts == (
        {"featureKind": "fold", "inSeries": 0, "y": "97"},
        {"featureKind": "fold", "inSeries": 0, "x": "30"},
    )


@pytest.mark.parametrize("text", ["", "high up", "(1, 2)-(3)"])
def test_folds_that_cannot_be_read_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"folds in mm|one number|a point"):
        lists.folds(text)
