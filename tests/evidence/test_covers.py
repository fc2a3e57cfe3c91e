"""What holes, folds and edges of a cover may mean (common practice, no published source)."""

from __future__ import annotations

import pytest

from tests.binding.bench import at, piece, placing
from tests.evidence.covers import (
    OLD,
    SEWN,
    STATIONS,
    bound,
    claim,
    hole,
    joints,
    line,
    read,
    rows,
    status,
    turn_ins,
)
from tests.evidence.shelf import BOOK

RE_USED = "re-used-cover"


SEARCHED = [
    {
        "id": "#answer-1",
        "asked": "stations",
        "answer": "looked-for-not-found",
        "reason": "Every fold looked into.",
    }
]


def test_old_holes_in_aligned_pairs_across_the_spine_settle_that_the_cover_held_another_book() -> None:
    found = read(*bound([*SEWN, *rows(34.0, OLD)], answers=SEARCHED))
    assert status(found, RE_USED) == "settled"
    assert "two rows of 3 holes, 34.0 mm apart" in found.words()
    assert "none were found: Every fold looked into)" in found.words()


def test_old_holes_only_point_to_another_book_where_nobody_searched_the_folds_for_an_older_sewing() -> None:
    found = read(*bound([*SEWN, *rows(34.0, OLD)]))
    assert status(found, RE_USED) == "pointed to"
    assert "Would decide it: Look in the folds of the gatherings for old holes" in found.words()


def test_two_old_holes_in_each_row_merely_fit_another_book() -> None:
    found = read(*bound([*SEWN, *rows(34.0, (10.0, 290.0))], answers=SEARCHED))
    assert status(found, RE_USED) == "merely fitting"
    assert "endbands or tackets of this volume were laced there" in found.words()


@pytest.mark.parametrize("kind", ["lacing-hole", "tacket-hole"])
def test_holes_whose_series_belongs_to_this_volume_are_no_old_holes(kind: str) -> None:
    own = [{**trace, "inSeries": "#series-1"} for trace in rows(24.0, (10.0, 100.0, 290.0), kind)]
    series = [{"id": "#series-1", "use": "second-use", "host": BOOK}]
    assert status(read(*bound([*SEWN, *own], series=series, answers=SEARCHED)), RE_USED) is None


def test_holes_with_a_tacket_in_them_are_no_old_holes() -> None:
    put = placing("tacked", "Tacket", "Book", 1, at("-18", "60", "cover-outside", layer=2), function="tacket")
    tacket = piece("Tacket", "215.0", "36.0")
    found = read(*bound([*SEWN, *rows(34.0, OLD)], tacket, put, answers=SEARCHED))
    assert status(found, RE_USED) is None


def test_old_rows_as_far_apart_as_the_text_block_is_thick_speak_for_a_resewing_of_the_same_book() -> None:
    found = read(*bound([*SEWN, *rows(45.0, OLD)]))
    assert status(found, RE_USED) == "spoken against"
    assert "stands: the same book was sewn again" in found.words()


def test_old_rows_at_former_stations_of_the_same_text_block_rule_out_another_book() -> None:
    former = [
        {"id": f"#station-{n}", "y": str(y), "toStage": f"{BOOK}#stage-1"} for n, y in enumerate(OLD, start=1)
    ]
    sewn = [
        {"id": f"#station-{n}", "y": str(y), "fromStage": f"{BOOK}#stage-2"}
        for n, y in enumerate(STATIONS, start=4)
    ]
    found = read(*bound([*SEWN, *rows(34.0, OLD)], stations=[*former, *sewn], stages=2))
    assert status(found, RE_USED) == "ruled out"


def test_old_rows_settle_nothing_where_the_text_block_was_not_measured() -> None:
    found = read(*bound([*SEWN, *rows(34.0, OLD)], thickness=None, spineWidth=None))
    assert status(found, RE_USED) != "settled"


def test_without_sewing_stations_old_holes_cannot_be_told_from_new() -> None:
    found = read(*bound([*SEWN, *rows(34.0, OLD)], stations=[]))
    assert status(found, RE_USED) is None
    assert any("sewing stations" in words for words in found.to_look_for)


def test_stations_that_cannot_be_found_on_the_cover_ask_for_its_registration_and_not_for_stations() -> None:
    found = read(*bound([*SEWN, *rows(34.0, OLD)], registrations=[]))
    assert any("(its registration)" in words for words in found.to_look_for)
    assert not any(words.startswith("Record the sewing stations") for words in found.to_look_for)


def test_a_cover_with_the_holes_of_its_own_sewing_only_says_nothing_of_another_book() -> None:
    assert status(read(*bound([*SEWN, *joints()])), RE_USED) is None


def test_one_old_hole_is_no_row() -> None:
    assert status(read(*bound([*SEWN, hole("lacing-hole", 10, 100)])), RE_USED) is None


def test_sewing_off_the_centre_merely_fits_a_re_used_cover() -> None:
    found = read(*bound(rows(46.0, STATIONS, off=4.0)))
    assert status(found, RE_USED) == "merely fitting"
    assert "gatherings are lost at one end" in found.words()


def test_a_spine_narrower_than_the_text_block_merely_fits_a_re_used_cover() -> None:
    found = read(*bound([*SEWN, *joints(38.0)]))
    assert status(found, RE_USED) == "merely fitting"
    assert "gatherings were added after binding" in found.words()


def test_a_cover_shorter_than_the_text_block_points_to_a_re_used_cover_and_does_not_settle_it() -> None:
    found = read(*bound([*SEWN, *turn_ins("head", "tail")], height="306.0"))
    assert status(found, RE_USED) == "pointed to"
    words = found.words()
    assert "not excluded: the text block was never trimmed" in words
    assert "not excluded: the parchment shrank" in words


def test_several_weak_signs_never_add_up_to_a_settled_claim() -> None:
    traces = [*rows(46.0, STATIONS, off=4.0), *joints(38.0), *turn_ins("head", "tail")]
    found = read(*bound(traces, height="306.0"))
    reused = claim(found, RE_USED)
    assert reused is not None
    assert len(reused.readings) == 3
    assert reused.status == "pointed to"


FLAP = [
    *SEWN,
    *turn_ins("head", "tail", "upper"),
    line("cut-edge", -230, -15, -230, 315),
    hole("fastening-hole", 150, 100),
    hole("fastening-hole", 150, 200),
]


def test_a_lost_flap_is_pointed_to_when_its_four_signs_meet() -> None:
    found = read(*bound(FLAP, looked_over=True))
    flap = claim(found, "flap")
    assert flap is not None
    assert flap.status == "pointed to"
    assert flap.subject.name.startswith("the lower cover")
    assert len(flap.readings[0].signs) == 4


@pytest.mark.parametrize(
    "contradicting",
    [
        [hole("tacket-hole", -200, 100)],
        turn_ins("lower"),
        [line("fold", -190, -15, -190, 315)],
    ],
    ids=["tacket holes there", "a turn-in there", "no narrower other cover"],
)
def test_a_lost_flap_disappears_when_one_of_its_signs_is_contradicted(
    contradicting: list[dict[str, object]],
) -> None:
    assert status(read(*bound([*FLAP, *contradicting], looked_over=True)), "flap") is None


def test_a_lost_flap_disappears_without_fastening_holes_on_the_other_cover() -> None:
    without = [trace for trace in FLAP if trace["featureKind"] != "fastening-hole"]
    assert status(read(*bound(without, looked_over=True)), "flap") is None


def test_tackets_and_a_turn_in_that_nobody_looked_for_are_not_taken_as_missing() -> None:
    flap = claim(read(*bound(FLAP)), "flap")
    assert flap is not None
    assert flap.status == "open"
    assert [sign.state for sign in flap.readings[0].signs] == ["unknown", "unknown", "seen", "seen"]
    assert any("whether it has tackets" in words for words in flap.readings[0].would_decide)


def test_a_flap_whose_signs_are_not_all_recorded_is_open_and_says_what_to_record() -> None:
    without_turn_ins = [trace for trace in FLAP if trace["featureKind"] != "fold"]
    flap = claim(read(*bound(without_turn_ins)), "flap")
    assert flap is not None
    assert flap.status == "open"
    assert "Record the turn-ins of the cover, edge by edge." in flap.readings[0].would_decide


def test_fastening_holes_with_no_counterpart_point_to_something_lost() -> None:
    assert status(read(*bound([*SEWN, hole("fastening-hole", 150, 100)])), "lost-fastening") == "pointed to"


def test_fastening_holes_on_both_covers_are_each_others_counterpart() -> None:
    pair = [hole("fastening-hole", 150, 100), hole("fastening-hole", -150, 100)]
    assert status(read(*bound([*SEWN, *pair])), "lost-fastening") is None


def test_a_fastening_hole_with_its_toggle_lacks_nothing() -> None:
    toggle = piece("Toggle", "6.0", "20.0")
    put = placing(
        "tied",
        "Toggle",
        "Book",
        1,
        at("140.0", "97.0", "cover-outside", layer=2),
        function="fastening-toggle",
    )
    found = read(*bound([*SEWN, hole("fastening-hole", 150, 100)], toggle, put))
    assert status(found, "lost-fastening") is None


def test_no_turn_in_where_the_others_have_one_and_a_cut_edge_point_to_trimming() -> None:
    traces = [*turn_ins("head", "tail", "upper"), line("cut-edge", -230, -15, -230, 315)]
    assert status(read(*bound(traces)), "trimmed") is None
    found = read(*bound(traces, looked_over=True))
    trimmed = claim(found, "trimmed")
    assert trimmed is not None
    assert trimmed.status == "pointed to"
    assert trimmed.subject.name.startswith("the lower cover")


def test_no_turn_in_and_an_edge_as_it_was_made_do_not_point_to_trimming() -> None:
    traces = [*turn_ins("head", "tail", "upper"), line("original-edge", -230, -15, -230, 315)]
    assert status(read(*bound(traces, looked_over=True)), "trimmed") is None


def test_folds_that_serve_no_present_purpose_point_to_an_earlier_use() -> None:
    found = read(*bound([*joints(), line("fold", 100, -15, 100, 315)]))
    assert status(found, "earlier-format") == "pointed to"
    assert "folded in storage" in found.words()


def test_folds_at_the_joints_and_turn_ins_all_serve_a_purpose() -> None:
    assert status(read(*bound([*joints(), *turn_ins("head", "tail", "upper")])), "earlier-format") is None


def test_a_volume_without_a_recorded_cover_says_what_to_look_for() -> None:
    book = bound()[0]
    found = read(book)
    assert found.claims == ()
    assert "Record the cover with its holes, series by series." in found.to_look_for
    assert found.as_json()["toLookFor"]
