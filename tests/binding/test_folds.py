"""Where a cover folds, and where its parts come to lie when it is closed."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from guardbook.binding.closed_cover import FoldedPart, folded_parts
from guardbook.binding.folds import fold_of
from guardbook.binding.scene_parts import SceneItem
from tests.binding.bench import at, iri, piece, placing, separation, stage, volume
from tests.binding.stage_set import book, item, line

LAIN = [{"id": "#registration-1", "stage": stage("Book", 1), "dx": "0", "dy": "-3"}]
BOOK = volume("Book", "1510", "1600", height="300", width="200", spineWidth="40", registrations=LAIN)
# 20 mm are turned in at tail, head and both fore-edges: the closed cover is 306 mm high, 223 from the middle
SIZE: dict[str, str] = {"height": "346", "width": "486"}
BOUND = placing("bound", "Cover", "Book", 1, at("-243", "-20", "cover-outside"), function="cover")


def folds(key: str = "cover-outside", *features: Any, **fields: Any) -> dict[str, list[tuple[float, ...]]]:
    cover = piece("Cover", **SIZE, features=list(features), **fields)
    found: dict[str, list[tuple[float, ...]]] = {}
    for fold in item(book(BOOK, cover, BOUND), "Cover", key).folds:
        kind = f"{fold.kind}{' seen' if fold.seen else ''}"
        (x, y), (to_x, to_y) = fold.points
        found.setdefault(kind, []).append((x, to_x) if abs(x - to_x) < 5 else (y, to_y))
    return {kind: sorted(lines) for kind, lines in found.items()}


@pytest.mark.parametrize("key", ["cover-outside", "cover-inside"])
def test_the_folds_of_a_cover_are_worked_out_from_the_volume_where_none_were_seen(key: str) -> None:
    assert folds(key) == {
        "joint": [(-20, -20), (20, 20)],
        "turn-in": [(-223, -223), (0, 0), (223, 223), (306, 306)],
    }


def test_a_fold_that_was_seen_takes_the_place_of_the_one_that_was_worked_out() -> None:
    seen = folds(
        "cover-outside", line(1, ("264.5", "0"), ("264.5", "346")), line(2, ("0", "21"), ("486", "21"))
    )
    assert seen["joint seen"] == [(21.5, 21.5)]
    assert seen["joint"] == [(-20, -20)]
    assert seen["turn-in seen"] == [(1, 1)]


def test_a_fold_that_serves_nothing_stays_a_fold() -> None:
    assert folds("cover-outside", line(1, ("350", "0"), ("350", "346")))["fold seen"] == [(107, 107)]
    assert folds("cover-outside", line(1, ("300", "50"), ("340", "90")))["fold seen"] != []


def test_folds_of_an_earlier_use_are_no_joints_of_the_present_one() -> None:
    features = [line(1, ("262", "0"), ("262", "346"), inSeries="#series-1")]
    before = volume("Older", "1450", "1500")
    cover = piece(
        "Cover",
        **SIZE,
        features=features,
        series=[{"id": "#series-1", "use": "first-use", "host": before.id}],
    )
    first = placing("first", "Cover", "Older", 1, at("-242", "0", "cover-outside"), function="cover")
    off = separation("off", "Cover", "Older", 2)
    found = item(book(BOOK, before, cover, first, off, BOUND), "Cover", "cover-outside").folds
    assert [fold.kind for fold in found if fold.seen] == ["fold"]
    assert [fold.kind for fold in found if not fold.seen].count("joint") == 2


def test_a_spine_that_was_folded_for_fewer_gatherings_has_its_joints_where_it_was_folded() -> None:
    features = [line(n, (x, "0"), (x, "346"), inSeries="#series-1") for n, x in ((1, "231"), (2, "255"))]
    named = [{"id": "#series-1", "use": "first-use", "host": iri("host", "Book")}]
    cover = piece("Cover", **SIZE, features=features, series=named)
    found = item(book(BOOK, cover, BOUND), "Cover", "cover-outside").folds
    assert [fold.points[0][0] for fold in found if fold.kind == "joint"] == [-12, 12]


def test_what_reaches_far_past_a_fore_edge_is_a_flap() -> None:
    bound = placing("bound", "Cover", "Book", 1, at("-340", "-20", "cover-outside"), function="cover")
    found = item(book(BOOK, piece("Cover", "346", "583"), bound), "Cover", "cover-outside").folds
    assert [(fold.kind, fold.points[0][0]) for fold in found if abs(fold.points[0][0]) == 223] == [
        ("flap", -223),
        ("turn-in", 223),
    ]


def closed(
    left: float = -243, right: float = 243, left_kind: str = "turn-in", tail: float = 0.0
) -> tuple[FoldedPart, ...]:
    """Close a cover with joints at 20 mm, fore-edges at 223 mm, tail at 0 and head at 306 mm."""
    upright = {"joint": (-20.0, 20.0), left_kind: (-223.0,)}
    made = [fold_of(kind, ((x, -20.0), (x, 326.0))) for kind, lines in upright.items() for x in lines]
    made += [fold_of("turn-in", ((223.0, -20.0), (223.0, 326.0)))]
    made += [fold_of("turn-in", ((left, y), (right, y))) for y in (tail, 306.0)]
    outline = shapely.box(left, -20, right, 326)
    sheet = SceneItem(piece="c", name="c", words="", outline=outline, is_sheet=True, folds=tuple(made))
    return folded_parts(sheet, thickness=38)


def where(parts: tuple[FoldedPart, ...], x: float, y: float) -> tuple[str, str, tuple[float, float]]:
    (found,) = [part for part in parts if part.region.contains(shapely.Point(x, y))]
    side = f" {found.plane.side}" if found.plane.side else ""
    return found.part, found.plane.plane + side, found.way.point(x, y)


@pytest.mark.parametrize(
    ("point", "part"),
    [
        ((5, 100), ("spine", "cover-outside", (5, 100))),
        ((120, 100), ("upper", "board-outside upper", (100, 100))),
        ((-120, 100), ("lower", "board-outside lower", (100, 100))),
        ((120, -8), ("turn-in", "cover-inside", (-120, 8))),
        ((120, 310), ("turn-in", "cover-inside", (-120, 302))),
        ((230, 100), ("turn-in", "cover-inside", (-216, 100))),
        ((-230, 100), ("turn-in", "cover-inside", (216, 100))),
        ((230, -8), ("turn-in", "cover-inside", (-216, 8))),
    ],
)
def test_every_part_of_a_closed_cover_lies_where_it_is_folded_to(point: Any, part: Any) -> None:
    assert where(closed(), *point) == part


def test_a_tail_that_is_folded_higher_up_turns_in_about_that_line() -> None:
    assert where(closed(tail=4.0), 120, -8) == ("turn-in", "cover-inside", (-120, 16))


def test_a_turn_in_comes_to_lie_as_far_in_as_it_reached_out_and_beyond_no_edge() -> None:
    turned = [part for part in closed() if part.part == "turn-in"]
    assert len(turned) == 8
    board = shapely.union_all([part.folded(part.region) for part in turned])
    assert board.bounds == (-223, 0, 223, 306)


def test_the_parts_of_a_closed_cover_make_up_the_whole_of_it_once() -> None:
    parts = closed()
    assert sum(part.region.area for part in parts) == pytest.approx(486 * 346)
    assert shapely.union_all([part.region for part in parts]).area == pytest.approx(486 * 346)


def test_a_flap_crosses_the_fore_edge_and_lies_on_the_other_board_its_outside_still_outside() -> None:
    parts = closed(left=-340, left_kind="flap")
    # 223 mm to the fore-edge, 38 mm across it, then back over a board 203 mm wide
    assert where(parts, -271, 100) == ("flap", "board-outside upper", (193, 100))
    (flap,) = [part for part in parts if part.part == "flap"]
    assert flap.way.a == 1


def test_a_flap_of_the_upper_cover_lies_on_the_lower_board() -> None:
    made = [fold_of("joint", ((x, 0.0), (x, 300.0))) for x in (-20.0, 20.0)]
    made += [fold_of("flap", ((223.0, 0.0), (223.0, 300.0)))]
    sheet = SceneItem(
        piece="c",
        name="c",
        words="",
        outline=shapely.box(-223, 0, 340, 300),
        is_sheet=True,
        folds=tuple(made),
    )
    assert where(folded_parts(sheet, 38), 271, 100) == ("flap", "board-outside lower", (193, 100))


def test_a_cover_without_two_joints_is_not_closed() -> None:
    sheet = SceneItem(piece="c", name="c", words="", outline=shapely.box(0, 0, 9, 9), is_sheet=True)
    assert folded_parts(sheet, 38) == ()
