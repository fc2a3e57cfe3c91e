"""What edges, wormholes, traces and writing of pieces may mean (common practice, no published source)."""

from __future__ import annotations

from math import comb, pi
from typing import Any

import pytest

from guardbook.evidence.subjects import Together, together_in
from guardbook.evidence.worm_signs import accident
from guardbook.records.agent import Agent
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.reading import Reading
from tests.binding.bench import at, dossier, iri, made, piece, placing, volume
from tests.evidence.covers import read, status
from tests.evidence.shelf import BOOK

STRIP = iri("fragment", "Strip")


def outlined(*points: tuple[float, float]) -> Record:
    """Make a strip with an outline."""
    ring = ", ".join(f"{x} {y}" for x, y in (*points, points[0]))
    return piece("Strip", outline=f"POLYGON (({ring}))")


def test_an_edge_straight_within_a_fraction_of_a_millimetre_points_to_cutting() -> None:
    top = [(100, 40), (75, 40.2), (50, 39.9), (25, 40.1), (0, 40)]
    found = read(outlined((0, 0), (100, 0), *top), about=STRIP)
    assert status(found, "cut-on-purpose") == "pointed to"
    assert "not excluded: it is an original edge" in found.words()
    assert status(found, "torn") is None


def test_an_irregular_edge_points_to_tearing() -> None:
    top = [(100, 40), (75, 44), (50, 38), (25, 43), (0, 40)]
    found = read(outlined((0, 0), (100, 0), *top), about=STRIP)
    assert status(found, "torn") == "pointed to"
    assert "the edge is worn or eaten" in found.words()


STRAIGHT = ((0, 0), (100, 0), (100, 40), (75, 40.2), (50, 39.9), (25, 40.1), (0, 40))
WAVY = ((0, 0), (100, 0), (100, 40), (75, 44), (50, 38), (25, 43), (0, 40))


def edged(kind: str, *points: tuple[float, float]) -> Record:
    """Make a strip with an outline, and its head edge recorded as of a kind."""
    ring = ", ".join(f"{x} {y}" for x, y in (*points, points[0]))
    edge = {"id": "#feature-1", "featureKind": kind, "x": "0", "y": "40", "toX": "100", "toY": "40"}
    return piece("Strip", outline=f"POLYGON (({ring}))", features=[edge])


@pytest.mark.parametrize("kind", ["original-edge", "torn-edge"])
def test_a_straight_edge_recorded_as_none_that_was_cut_does_not_point_to_cutting(kind: str) -> None:
    assert status(read(edged(kind, *STRAIGHT), about=STRIP), "cut-on-purpose") is None


def test_a_straight_edge_recorded_as_cut_is_no_original_edge() -> None:
    found = read(edged("cut-edge", *STRAIGHT), about=STRIP)
    assert status(found, "cut-on-purpose") == "pointed to"
    assert "excluded: it is an original edge (a straight edge is recorded as a cut edge)" in found.words()


@pytest.mark.parametrize("kind", ["original-edge", "cut-edge"])
def test_an_irregular_edge_recorded_as_none_that_was_torn_does_not_point_to_tearing(kind: str) -> None:
    assert status(read(edged(kind, *WAVY), about=STRIP), "torn") is None


def test_an_irregular_edge_recorded_as_torn_is_not_worn_or_eaten() -> None:
    found = read(edged("torn-edge", *WAVY), about=STRIP)
    assert status(found, "torn") == "pointed to"
    assert "excluded: the edge is worn or eaten (an irregular edge is recorded as a torn" in found.words()


def test_an_edge_drawn_from_corner_to_corner_was_not_measured() -> None:
    found = read(outlined((0, 0), (100, 0), (100, 40), (0, 40)), about=STRIP)
    assert found.claims == ()
    assert any("point by point" in words for words in found.to_look_for)


def wormed(*points: tuple[float, float]) -> list[dict[str, Any]]:
    """Make wormholes."""
    return [
        {"id": f"#feature-{n}", "featureKind": "wormhole", "x": str(x), "y": str(y), "goesThrough": True}
        for n, (x, y) in enumerate(points, start=1)
    ]


HOLES = ((20, 30), (60, 90), (85, 140))


LOOKED_OVER = [{"id": "#answer-1", "asked": "features", "answer": "looked-for-not-found"}]


def on_board(
    ours: tuple[tuple[float, float], ...],
    theirs: list[dict[str, Any]],
    certainty: str = "measured",
    answers: list[dict[str, Any]] = LOOKED_OVER,
) -> tuple[Record, ...]:
    """Lay a lining with wormholes on a board sheet with other traces, edge on edge."""
    place = {"plane": "board-inside", "side": "lower", "certainty": certainty}
    return (
        volume("Book", None),
        piece("Strip", "150.0", "100.0", features=wormed(*ours)),
        piece("Sheet", "150.0", "100.0", features=theirs, answers=answers),
        placing("lining", "Strip", "Book", 1, at("5", "5", layer=1, **place), function="board-lining"),
        placing("sheet", "Sheet", "Book", 1, at("5", "5", layer=2, **place), function="board-laminate"),
    )


def test_three_wormholes_in_register_settle_that_two_pieces_lay_together() -> None:
    found = read(*on_board(HOLES, wormed(*HOLES)))
    assert status(found, "together") == "settled"
    assert "by accident" in found.words()


@pytest.mark.parametrize("certainty", ["from-traces", "inferred"])
def test_wormholes_of_pieces_that_were_placed_by_them_prove_nothing_by_them(certainty: str) -> None:
    found = read(*on_board(HOLES, wormed(*HOLES), certainty))
    assert status(found, "together") == "merely fitting"
    assert "stands: they were laid so that the holes meet" in found.words()
    assert "Would decide it: Measure both places" in found.words()


def test_wormholes_in_register_only_point_to_it_where_a_place_was_taken_from_a_photograph() -> None:
    found = read(*on_board(HOLES, wormed(*HOLES), "from-photograph"))
    assert status(found, "together") == "pointed to"


def test_one_wormhole_in_register_may_be_chance() -> None:
    found = read(*on_board(HOLES[:1], wormed(*HOLES[:1])))
    assert status(found, "together") == "merely fitting"
    assert "chance, for so few holes" in found.words()


def test_three_in_register_among_very_many_wormholes_are_not_settled() -> None:
    many = [(x, y) for x in range(2, 100, 4) for y in range(2, 150, 4)]
    found = read(*on_board(((10, 10), (50, 50), (82, 122)), wormed(*many)))
    assert status(found, "together") == "pointed to"


def test_wormholes_that_stop_at_a_piece_speak_against_their_having_lain_together() -> None:
    found = read(*on_board(HOLES, [{"id": "#feature-1", "featureKind": "stain", "x": "1", "y": "1"}]))
    assert status(found, "together") == "spoken against"


@pytest.mark.parametrize(
    ("certainty", "answers"),
    [("inferred", LOOKED_OVER), ("measured", [])],
    ids=["no measured place", "nobody looked for holes"],
)
def test_wormholes_are_not_said_to_stop_where_place_or_search_is_not_recorded(
    certainty: str, answers: list[dict[str, Any]]
) -> None:
    stain = [{"id": "#feature-1", "featureKind": "stain", "x": "1", "y": "1"}]
    assert status(read(*on_board(HOLES, stain, certainty, answers)), "together") in {None, "open"}


def test_a_piece_whose_traces_are_not_recorded_says_nothing_of_where_wormholes_stop() -> None:
    assert status(read(*on_board(HOLES, [])), "together") is None


def test_the_chance_of_wormholes_in_register_is_binomial() -> None:
    """Against the formula worked out by hand: at least k of n holes near one of m on an area."""
    records = dossier(*on_board(HOLES, wormed(*HOLES)))
    host = records.host(BOOK)
    assert isinstance(host, HostVolume)
    (pair,) = together_in(records, host)
    assert isinstance(pair, Together)
    near = 1 - (1 - pi * 1.0**2 / (100 * 150)) ** 3
    by_hand = sum(comb(3, k) * near**k * (1 - near) ** (3 - k) for k in range(3, 4))
    assert accident(pair, 1.0) == pytest.approx(by_hand, abs=1e-12)


def traced(**trace: Any) -> Record:
    """Make a strip with one inscription."""
    return piece("Strip", features=[{"id": "#feature-1", "featureKind": "inscription", **trace}])


def test_writing_across_the_joint_settles_that_two_were_together_at_that_time() -> None:
    found = read(traced(continuesOn=[BOOK]), volume("Book", None), about=STRIP)
    assert status(found, "joined") == "settled"


def test_writing_under_a_label_settles_that_the_label_is_later() -> None:
    label = piece("Label")
    assert status(read(traced(runsUnder=[label.id]), label, about=STRIP), "label-later") == "settled"


def test_an_inscription_that_stops_at_the_edge_settles_nothing() -> None:
    assert read(traced(), about=STRIP).claims == ()


def written(name: str, first: int, last: int, x: str | None = None, **fields: Any) -> Fragment:
    """Make a piece with writing, and its lines in the leaf."""
    place = {
        "id": "#carrier-place-1",
        "carrier": iri("carrier", "Psalter"),
        "carrierLeaf": "1",
        "leafSide": "recto",
        "firstLine": first,
        "lastLine": last,
        **({"x": x, "y": "100"} if x else {}),
    }
    given = {"ruling": "Hard point", "linePitch": "8.5", "script": "protogothic", "carrierPlaces": [place]}
    return piece(name, **{key: value for key, value in {**given, **fields}.items() if value is not None})


def letter(certainty: str | None = None) -> list[dict[str, Any]]:
    """Record a letter cut through at the edge that goes on in the other piece."""
    trace = {"id": "#feature-1", "featureKind": "inscription", "continuesOn": [iri("fragment", "Other")]}
    return [{**trace, "certainty": certainty} if certainty else trace]


def test_the_same_ruling_pitch_and_script_with_letters_that_go_on_settle_one_book() -> None:
    found = read(written("Strip", 1, 5, features=letter()), written("Other", 6, 9), about=STRIP)
    assert status(found, "same-carrier") == "settled"
    assert "letters cut through" in found.words()


def test_places_in_one_leaf_merely_fit_one_book_since_it_was_taken_for_one() -> None:
    found = read(written("Strip", 1, 5), written("Other", 6, 9), about=STRIP)
    assert status(found, "same-carrier") == "merely fitting"
    assert "because they were taken for pieces of one leaf" in found.words()


def test_letters_that_were_only_inferred_to_go_on_settle_nothing() -> None:
    found = read(written("Strip", 1, 5, features=letter("inferred")), written("Other", 6, 9), about=STRIP)
    assert status(found, "same-carrier") == "merely fitting"


def test_the_same_lines_cut_through_side_by_side_fit_one_book_and_far_apart_say_nothing() -> None:
    beside = read(written("Strip", 2, 5, "0"), written("Other", 3, 6, "20"), about=STRIP)
    assert status(beside, "same-carrier") == "merely fitting"
    apart = read(written("Strip", 2, 5, "0"), written("Other", 3, 6, "150"), about=STRIP)
    assert status(apart, "same-carrier") is None


@pytest.mark.parametrize("x", [None, "10"], ids=["nowhere across the leaf", "in the same part of it"])
def test_the_same_lines_in_two_pieces_speak_against_one_book(x: str | None) -> None:
    found = read(written("Strip", 2, 5, "5"), written("Other", 3, 6, x), about=STRIP)
    assert status(found, "same-carrier") == "spoken against"


@pytest.mark.parametrize(
    "other",
    [
        written("Other", 6, 9, linePitch="9.1"),
        written("Other", 6, 9, ruling="Ink"),
        written("Other", 6, 9, script="caroline"),
        written("Other", 8, 9),
    ],
    ids=["another pitch", "another ruling", "another script", "a gap in the text"],
)
def test_one_sign_that_is_not_there_leaves_no_reading_of_one_book(other: Fragment) -> None:
    assert status(read(written("Strip", 1, 5), other, about=STRIP), "same-carrier") is None


def test_the_same_pitch_and_script_without_text_leave_it_open_and_say_what_would_decide() -> None:
    found = read(written("Strip", 1, 5), written("Other", 6, 9, carrierPlaces=None), about=STRIP)
    assert status(found, "same-carrier") == "open"
    assert "first and last line" in found.words()


def test_a_reading_that_a_person_entered_stands_beside_signed_and_dated() -> None:
    person = made(Agent, "Ann", name="Ann")
    entered = made(
        Reading,
        "belief",
        about=[STRIP],
        claim="It was a tie.",
        strength="fits",
        by=person.id,
        when="2020-05",
        observations=[{"id": "#observation-1", "text": "A knot."}],
        alternatives=[{"id": "#alternative-1", "text": "A marker.", "excluded": False}],
    )
    found = read(traced(continuesOn=[BOOK]), entered, person, volume("Book", None), about=STRIP)
    assert status(found, "joined") == "settled"
    assert "Entered by Ann, 2020-05" in found.words()
    assert "Merely fitting: It was a tie." in found.words()
    assert "not excluded: A marker." in found.words()
