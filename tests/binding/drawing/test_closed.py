"""The closed volume: what reaches past an edge is folded over it, and what is hidden is left out."""

from __future__ import annotations

import pytest

from guardbook.binding.drawing.closed import draw_closed
from guardbook.binding.drawing.closed_planes import closed_planes
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneItem
from guardbook.errors import WrongUse
from tests.binding.drawing.easel import Read, extent, shelf
from tests.binding.stage_set import bounds, hole

# a cover for a volume 140 x 200 mm with a spine of 60, turned in 15 mm all round
ON_COVER = {"plane": "cover-outside"}
COVER = ("Cover", "-185", "-15", {**ON_COVER, "width": "370", "height": "230", "function": "cover"})
FLAT = {
    "id": "#plane-1",
    "plane": "cover-outside",
    "left": "-170",
    "right": "170",
    "bottom": "0",
    "top": "200",
}
NAMES = [
    "Lower board, outside",
    "Spine",
    "Upper board, outside",
    "Inside, upper board",
    "Inside, lower board",
]


def faces(scene: Scene) -> dict[str, list[SceneItem]]:
    return {name: list(plane.items) for name, plane in zip(NAMES, closed_planes(scene), strict=True)}


def test_a_cover_is_parted_into_its_faces_at_the_joints_and_edges() -> None:
    found = faces(shelf(COVER))
    assert bounds(found["Spine"][0]) == (-30, 0, 30, 200)
    assert bounds(found["Upper board, outside"][0]) == (0, 0, 140, 200)
    assert bounds(found["Lower board, outside"][0]) == (0, 0, 140, 200)


def test_what_is_turned_in_lies_along_the_edges_of_the_inside() -> None:
    inside = faces(shelf(COVER))["Inside, upper board"]
    turned = {bounds(one) for one in inside[1:]}
    assert (0, 0, 140, 15) in turned, "along the tail"
    assert (0, 185, 140, 200) in turned, "along the head"
    assert (125, 0, 140, 200) in turned, "along the fore-edge"


def test_a_hole_near_the_edge_of_a_cover_comes_to_lie_on_the_inside() -> None:
    _, x, y, said = COVER
    cover = ("Cover", x, y, {**said, "features": [hole(1, "365", "100", "fastening-hole", goesThrough=True)]})
    inside = faces(shelf(cover))["Inside, upper board"]
    points = [trace.points[0] for one in inside for trace in one.features]
    assert points == [(130, 85)], "10 mm past the fore-edge is 10 mm within it"


def test_a_patch_that_goes_round_the_fore_edge_is_seen_on_both_sides() -> None:
    patch = ("Patch", "150", "50", {**ON_COVER, "width": "35", "height": "20", "layer": 2})
    found = faces(shelf(COVER, patch))
    (outside,) = [bounds(one) for one in found["Upper board, outside"] if one.name == "Patch"]
    (inside,) = [bounds(one) for one in found["Inside, upper board"] if one.name == "Patch"]
    assert [outside, inside] == [(120, 50, 140, 70), (125, 50, 140, 70)]


def test_a_pastedown_lies_over_the_turn_ins() -> None:
    board = {"plane": "board-inside", "side": "upper"}
    pastedown = ("Pastedown", "2", "5", {**board, "width": "130", "height": "190"})
    names = [one.name for one in faces(shelf(COVER, pastedown))["Inside, upper board"]]
    assert names[-1] == "Pastedown"
    assert set(names[:-1]) == {"Cover"}


def test_linings_under_a_cover_are_not_seen_and_not_drawn() -> None:
    lining = ("Lining", "-20", "10", {"width": "40", "height": "100"})
    read = Read(draw_closed(shelf(COVER, lining)))
    assert not read.pieces("Lining")
    assert "Lining" not in read.words()
    assert "Only what can be seen is drawn." in read.texts()


def test_without_a_cover_the_linings_on_the_spine_are_seen() -> None:
    lining = ("Lining", "-20", "10", {"width": "40", "height": "100"})
    read = Read(draw_closed(shelf(lining, planes=[FLAT])))
    assert extent(read.piece("Lining")) == (40, 100)


def test_the_faces_are_drawn_to_scale_and_named() -> None:
    read = Read(draw_closed(shelf(COVER)))
    sizes = {extent(shape) for shape in read.pieces("Cover")}
    assert {(140, 200), (60, 200)} <= sizes
    assert set(NAMES) <= set(read.texts())
    assert all(f"{name}:" in read.alternative for name in NAMES)


def test_insides_on_which_nothing_is_known_are_not_drawn() -> None:
    texts = Read(draw_closed(shelf(planes=[FLAT]))).texts()
    assert "Spine" in texts
    assert "Inside, upper board" not in texts


def test_a_volume_of_which_neither_joints_nor_spine_are_known_cannot_be_closed() -> None:
    with pytest.raises(WrongUse, match="Record the width of the spine"):
        draw_closed(shelf(("Strip", "0", "0", {}), spineWidth=None, height=None))
