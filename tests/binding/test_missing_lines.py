"""How many lines are missing between two pieces, and how surely that can be said."""

from __future__ import annotations

import math
from random import Random
from typing import Any

import pytest
import shapely

from guardbook.binding.leaf_parts import LeafPiece, LineCount, MissingLines
from guardbook.binding.missing_lines import Written, line_lengths, missing_lines, student_t
from guardbook.binding.surviving_lines import SurvivingLine


def strip(name: str, bottom: float, top: float, left: float = 0, **fields: Any) -> LeafPiece:
    return LeafPiece(
        piece=name, name=name, words="", outline=shapely.box(left, bottom, left + 60, top), **fields
    )


def written(piece: LeafPiece, *places: int | None, first: int = 1, **fields: Any) -> Written:
    lines = tuple(
        SurvivingLine(first + n, ("x",), starts_at=place, is_from_start=True)
        for n, place in enumerate(places)
    )
    return Written(piece, lines, **fields)


def between(above: Written, below: Written, *pitches: float) -> MissingLines:
    (found,) = missing_lines([above, below], pitches)
    return found


def by(found: MissingLines, method: str) -> LineCount:
    return next(count for count in found.counts if count.method == method)


UPPER, LOWER = strip("Upper", 100, 140), strip("Lower", 40, 83)


def test_recorded_line_numbers_are_counted() -> None:
    found = between(
        written(strip("Upper", 100, 140, last_line=5)), written(strip("Lower", 40, 83, first_line=8))
    )
    assert by(found, "numbers") == LineCount(
        method="numbers", lines=2, low=2, high=2, words="By their recorded line numbers, 2 lines are missing."
    )
    assert found.agree is None


def test_the_gap_holds_as_many_lines_as_the_pitch_goes_into_it_give_or_take_one() -> None:
    count = by(between(written(UPPER), written(LOWER), 8.5), "pitch")
    assert (count.lines, count.low, count.high) == (2, 1, 3)


def test_pitches_that_differ_widen_the_range() -> None:
    count = by(between(written(UPPER), written(LOWER), 8.0, 9.0), "pitch")
    # two lines in 17 mm at 8.5 mm; the spread of the pitches is 0.707 mm
    assert count.high == pytest.approx(3 + 2 * (math.sqrt(0.5) / 8.5))


def test_the_letters_between_two_pieces_are_divided_by_those_of_a_line() -> None:
    # lines of 30 letters each; from the last line above to the first below are 120: three lines in between
    above, below = written(UPPER, 0, 30, 60, 90), written(LOWER, 210, 240, 270)
    count = by(between(above, below), "text")
    assert (count.lines, count.low, count.high) == (3, 3, 3)


def test_the_uncertainty_follows_from_the_spread_of_the_lines_counted() -> None:
    # lines of 28, 30 and 32 letters: mean 30, standard deviation 2, 3 lines, 2 degrees of freedom
    above, below = written(UPPER, 0, 28, 58, 90), written(LOWER, 210)
    count = by(between(above, below), "text")
    length, relative = 4.0, (2 / 30) ** 2
    reach = 4.303 * math.sqrt(length * relative + length**2 * relative / 3)
    assert (count.lines, count.low, count.high) == pytest.approx((3, 3 - reach, 3 + reach))
    assert count.words == (
        "By the 120 letters of the text from line to line, at 30.0 letters a line (spread 2.0, "
        "from 3 lines), "
        f"about 3.0 lines, 95 in 100 between {3 - reach:.1f} and {3 + reach:.1f}."
    )


def test_with_a_single_line_counted_no_range_is_given() -> None:
    count = by(between(written(UPPER, 0, 30), written(LOWER, 150)), "text")
    assert (count.lines, count.low, count.high) == (3, None, None)
    assert "cannot be said" in count.words


def test_one_line_seen_on_two_strips_is_counted_once() -> None:
    pieces = [
        written(strip("Left", 0, 40, first_line=1), 0, 30, 60),
        written(strip("Right", 0, 40, left=70, first_line=1), 12, 44, 72),
    ]
    lengths = line_lengths(pieces)
    assert lengths
    assert (lengths.count, lengths.mean) == (2, 30)


def test_lines_that_survive_but_were_not_found_are_not_missing() -> None:
    above, below = written(UPPER, 0, 30, None), written(LOWER, None, 210, 240)
    assert by(between(above, below), "text").lines == 3


def test_a_piece_further_along_the_line_begins_later_in_the_text() -> None:
    above = Written(UPPER, tuple(SurvivingLine(n, ("x",), starts_at=30 * n) for n in (1, 2, 3)), 0.0)
    below = Written(LOWER, tuple(SurvivingLine(n, ("x",), starts_at=225 + 30 * n) for n in (1, 2)), 0.5)
    # 165 letters are 5.5 lines, half of one because the lower piece begins half a line further along
    assert by(between(above, below), "text").lines == 4
    unknown = Written(LOWER, below.lines, None)
    count = by(between(above, unknown), "text")
    assert count.lines == 4.5
    assert count.high is not None
    assert count.high - count.lines == pytest.approx(student_t(2) * math.sqrt(1 / 6))


def test_methods_that_agree_and_methods_that_do_not_are_told() -> None:
    last, first = strip("Upper", 100, 140, last_line=5), strip("Lower", 40, 83, first_line=8)
    assert between(written(last), written(first), 8.5).agree is True
    wrong = strip("Lower", 40, 83, first_line=14)
    found = between(written(last), written(wrong), 8.5)
    assert found.agree is False
    assert found.words.endswith("The methods do not agree: look again.")


def test_a_piece_is_held_against_the_next_below_it_and_not_against_one_beside_it() -> None:
    pieces = [
        written(strip("Top", 100, 140)),
        written(strip("Beside", 20, 90, left=58)),
        written(strip("Far", 0, 20)),
        written(strip("Near", 40, 83)),
    ]
    found = missing_lines(pieces, [8.5])
    assert [(one.above, one.below) for one in found] == [("Top", "Near"), ("Near", "Far")]


def test_pieces_of_two_sides_are_not_held_against_each_other() -> None:
    pieces = [
        written(strip("Top", 100, 140, leaf_side="recto")),
        written(strip("Low", 0, 50, leaf_side="verso")),
    ]
    assert missing_lines(pieces, [8.5]) == ()


def test_pieces_without_a_place_follow_each_other_by_their_lines() -> None:
    unplaced = [
        LeafPiece(piece=name, name=name, words="", outline=None, first_line=first, last_line=last)
        for name, first, last in (("B", 9, 12), ("A", 1, 4), ("C", 20, 22))
    ]
    found = missing_lines([written(piece) for piece in unplaced], [])
    assert [(one.above, one.below, one.counts[0].lines) for one in found] == [("B", "C", 7), ("A", "B", 4)]


@pytest.mark.parametrize(
    ("degrees", "value"), [(1, 12.706), (10, 2.228), (11, 2.228), (29, 2.086), (10**6, 1.98)]
)
def test_students_t_is_never_too_small_between_the_rows_of_its_table(degrees: int, value: float) -> None:
    assert student_t(degrees) == value


def test_the_range_holds_the_true_number_of_lines_about_as_often_as_it_says() -> None:
    """Lines of about 32 letters, as a scribe might write them, cut into pieces again and again."""
    random, held, tries = Random(1), 0, 400
    for _ in range(tries):
        starts, missing = [0], random.randint(1, 12)
        for _ in range(8 + missing + 8):
            starts.append(starts[-1] + max(20, round(random.gauss(32, 3))))
        above, below = written(UPPER, *starts[:8]), written(LOWER, *starts[8 + missing : 16 + missing])
        count = by(between(above, below), "text")
        held += count.low is not None and count.high is not None and count.low <= missing <= count.high
    assert 0.90 <= held / tries <= 0.995
