"""Where a plane ends: as stated, by the back of the same sheet, by the cover itself, by sizes, by pieces."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from guardbook.binding.limits import limits_of, stated_limits
from guardbook.binding.plane_keys import plane_called
from tests.binding.bench import volume

OUTSIDE, INSIDE, SPINE = (plane_called(key) for key in ("cover-outside", "cover-inside", "textblock-spine"))
STATED = {"plane": "cover-outside", "left": "-260", "right": "240", "bottom": "-15", "top": "320"}
SIZE: dict[str, Any] = {"height": "300", "width": "200", "spineWidth": "40"}


def test_the_inside_of_a_cover_ends_where_its_outside_does_mirrored() -> None:
    host = volume("Book", planes=[STATED])
    assert limits_of(host, OUTSIDE) == (-260, -15, 240, 320, "stated")
    assert limits_of(host, INSIDE) == (-240, -15, 260, 320, "stated")


def test_what_is_stated_for_a_face_itself_goes_before_what_is_stated_for_its_back() -> None:
    host = volume("Book", planes=[STATED, {"plane": "cover-inside", "left": "-230"}])
    assert stated_limits(host, INSIDE)["left"] == -230
    assert stated_limits(host, INSIDE)["right"] == 260


def test_the_two_sides_of_a_leaf_and_of_a_board_end_alike() -> None:
    planes = [
        {
            "plane": "leaf",
            "leaf": 3,
            "leafSide": "recto",
            "left": "0",
            "right": "190",
            "bottom": "2",
            "top": "280",
        },
        {
            "plane": "board-outside",
            "side": "upper",
            "left": "0",
            "right": "205",
            "bottom": "-3",
            "top": "303",
        },
    ]
    host = volume("Book", planes=planes)
    assert limits_of(host, plane_called("leaf-3-verso"))[:4] == (0, 2, 190, 280)
    assert limits_of(host, plane_called("board-inside-upper"))[:4] == (0, -3, 205, 303)
    assert limits_of(host, plane_called("board-inside-lower")).source == "nothing"


@pytest.mark.parametrize(
    ("key", "edges"),
    [
        ("cover-outside", (-220, 0, 220, 300)),
        ("textblock-spine", (-20, 0, 20, 300)),
        ("fold-3", (-200, 0, 200, 300)),
        ("leaf-9-verso", (0, 0, 200, 300)),
        ("board-inside-lower", (0, 0, 200, 300)),
    ],
)
def test_a_plane_that_is_not_stated_is_as_large_as_the_volume_makes_it(
    key: str, edges: tuple[float, ...]
) -> None:
    assert limits_of(volume("Book", **SIZE), plane_called(key)) == (*edges, "size")


def test_the_thickness_of_the_text_block_stands_for_a_spine_that_was_not_measured() -> None:
    host = volume("Book", height="300", thickness="50")
    assert limits_of(host, SPINE) == (-25, 0, 25, 300, "size")


def test_a_cover_on_its_plane_says_where_that_ends_before_any_size_does() -> None:
    cover = shapely.box(-231, -16, 259, 318)
    assert limits_of(volume("Book", **SIZE), OUTSIDE, [cover]) == (-231, -16, 259, 318, "sheet")


def test_pieces_say_it_with_a_margin_where_nothing_else_does_and_an_empty_plane_has_a_size_to_draw() -> None:
    assert limits_of(volume("Book"), SPINE, (), [shapely.box(0, 20, 15, 60)]) == (-10, 10, 25, 70, "pieces")
    assert limits_of(None, SPINE) == (-50, 0, 50, 100, "nothing")


def test_edges_stated_in_part_are_filled_in_and_the_weakest_source_is_told() -> None:
    host = volume("Book", **SIZE, planes=[{"plane": "textblock-spine", "left": "-22", "right": "23"}])
    assert limits_of(host, SPINE) == (-22, 0, 23, 300, "size")


def test_edges_stated_the_wrong_way_round_are_not_drawn() -> None:
    host = volume("Book", planes=[{**STATED, "left": "240", "right": "-260"}])
    assert limits_of(host, OUTSIDE).source == "nothing"
