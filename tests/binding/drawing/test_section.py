"""A cut shows what lies over what: widths to scale, thicknesses enlarged, and how many times is said."""

from __future__ import annotations

import re
from typing import Any

import pytest

from guardbook.binding.drawing.bands import NOMINAL_MM, cut_at, faces_of, telling_height
from guardbook.binding.drawing.section import draw_section
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene import Scene
from guardbook.errors import WrongUse
from tests.binding.drawing.easel import Read, bounds, extent, shelf
from tests.binding.stage_set import hole, on

SPINE = plane_called("textblock-spine")
COVER_SIZE = {"width": "340", "height": "200"}


def layers(*more: tuple[str, str | None, str | None, dict[str, Any]]) -> Scene:
    return shelf(
        ("Lining", "-20", "10", {"height": "100", "width": "40", "layer": 1, "thickness": "0.2"}),
        ("Leather", "-30", "0", {"height": "180", "width": "60", "layer": 2, "thickness": "0.8"}),
        ("Label", "-10", "60", {"height": "30", "width": "20", "layer": 3, "thickness": "0.1"}),
        *more,
    )


def stretch_of(read: Read) -> float:
    found = re.search(r"Thicknesses are drawn (\d+) times as large", read.words())
    assert found
    return float(found[1])


def test_each_layer_lies_on_the_one_beneath_it_and_the_lowest_on_the_text_block() -> None:
    read = Read(draw_section(layers(), SPINE, 70))
    lining, leather, label = (bounds(read.piece(name)) for name in ("Lining", "Leather", "Label"))
    assert label[3] == pytest.approx(leather[1], abs=0.02)
    assert leather[3] == pytest.approx(lining[1], abs=0.02)
    assert "back of the text block, thickness not to scale" in read.texts()


def test_widths_are_to_scale_and_thicknesses_as_many_times_larger_as_the_drawing_says() -> None:
    read = Read(draw_section(layers(), SPINE, 70))
    times = stretch_of(read)
    assert times > 1
    for name, width, thick in (("Lining", 40, 0.2), ("Leather", 60, 0.8), ("Label", 20, 0.1)):
        assert extent(read.piece(name)) == pytest.approx((width, thick * times), abs=0.02)


def test_the_bar_for_thickness_is_as_long_as_it_says() -> None:
    read = Read(draw_section(layers(), SPINE, 70))
    said = [float(text[:-3]) for text in read.texts() if re.fullmatch(r"[0-9.]+ mm", text)]
    length = min(said) * stretch_of(read)
    high = {round(float(found), 2) for found in re.findall(r"h-[0-9.]+v-([0-9.]+)h", read.svg)}
    assert high == {round(length, 2)}


def test_a_piece_the_cut_does_not_meet_is_named_with_the_reason() -> None:
    read = Read(draw_section(layers(("Tie", None, None, {"edge": "head"})), SPINE, 20))
    assert not read.pieces("Label")
    assert "Label: the cut does not meet it" in read.words()
    assert "Tie: its place is not measured" in read.words()
    assert "Label: the cut does not meet it." in read.alternative


def test_a_thickness_that_was_not_measured_is_said_to_be_nominal() -> None:
    scene = shelf(("Lining", "-20", "10", {"height": "100", "width": "40"}))
    read = Read(draw_section(scene, SPINE, 50))
    assert extent(read.piece("Lining"))[1] == pytest.approx(NOMINAL_MM * stretch_of(read), abs=0.02)
    assert f"thickness not measured, drawn as {NOMINAL_MM} mm" in read.words()


def test_a_slotted_lining_is_cut_in_several_stretches() -> None:
    comb = "POLYGON ((0 0, 40 0, 40 100, 30 100, 30 40, 10 40, 10 100, 0 100, 0 0))"
    scene = shelf(("Comb", "-20", "0", {"outline": comb, "thickness": "0.3"}))
    (band,) = cut_at(faces_of(scene, on(scene, "textblock-spine")), 70).bands
    assert list(band.stretches) == [(-20, -10), (10, 20)]


def test_a_piece_beside_another_lies_as_low_as_it() -> None:
    scene = shelf(
        ("Left", "-20", "0", {"width": "10", "layer": 1, "thickness": "0.5"}),
        ("Right", "5", "0", {"width": "10", "layer": 2, "thickness": "0.5"}),
    )
    left, right = cut_at(faces_of(scene, on(scene, "textblock-spine")), 20).bands
    assert [left.base, right.base] == [0, 0]


def test_a_cut_through_a_cover_shows_both_of_its_faces() -> None:
    scene = shelf(
        (
            "Cover",
            "-170",
            "0",
            {"plane": "cover-outside", "width": "340", "height": "200", "function": "cover"},
        ),
        ("Patch", "20", "50", {"plane": "cover-inside", "width": "30", "height": "40"}),
    )
    outside = faces_of(scene, on(scene, "cover-outside"))
    assert [band.item.name for band in cut_at(outside, 60).bands] == ["Patch", "Cover"]
    patch, cover = cut_at(outside, 60).bands
    assert list(patch.stretches) == [(-50, -20)]
    assert cover.base == patch.top
    inside = faces_of(scene, on(scene, "cover-inside"))
    assert [band.item.name for band in cut_at(inside, 60).bands] == ["Cover", "Patch"]


def test_a_board_no_record_describes_is_drawn_between_what_is_on_its_faces() -> None:
    place = {"side": "upper", "height": "100", "width": "80"}
    scene = shelf(
        ("Pastedown", "0", "0", {"plane": "board-inside", **place}),
        ("Strap", "0", "0", {"plane": "board-outside", **place}),
    )
    cut = cut_at(faces_of(scene, on(scene, "board-inside-upper")), 50, body_mm=5)
    strap, pastedown = cut.bands
    assert (strap.item.name, pastedown.item.name) == ("Strap", "Pastedown")
    assert cut.body == (strap.top, pastedown.base)
    assert pastedown.base - strap.top == 5


def test_an_outer_guard_lies_on_the_far_side_of_the_gathering() -> None:
    fold = {"plane": "fold", "gathering": 2, "height": "100", "width": "20"}
    scene = shelf(
        ("Inner", "-10", "0", {**fold, "function": "sewing-guard"}),
        ("Outer", "-10", "0", {**fold, "function": "outer-guard"}),
    )
    cut = cut_at(faces_of(scene, on(scene, "fold-2")), 50, body_mm=1)
    assert [band.item.name for band in cut.bands] == ["Outer", "Inner"]
    assert cut.body == (cut.bands[0].top, cut.bands[1].base)


def test_holes_in_the_cut_are_drawn_and_others_are_not() -> None:
    holes = [hole(1, "10", "30", goesThrough=True), hole(2, "30", "80", goesThrough=True)]
    scene = shelf(("Lining", "-20", "10", {"height": "100", "width": "40", "features": holes}))
    assert "Holes in the cut: 1." in Read(draw_section(scene, SPINE, 40)).alternative
    assert "Holes in the cut" not in Read(draw_section(scene, SPINE, 60)).alternative


def test_without_a_height_the_cut_goes_where_it_meets_most_pieces() -> None:
    scene = layers()
    height = telling_height(faces_of(scene, on(scene, "textblock-spine")))
    assert height is not None
    assert 60 < height < 90
    assert f"cut across {height:g} mm from the tail" in Read(draw_section(scene, SPINE)).words()


def test_a_plane_on_which_nothing_is_measured_cannot_be_cut() -> None:
    scene = shelf(("Tie", None, None, {"edge": "head"}))
    with pytest.raises(WrongUse, match="Nothing on this plane is measured"):
        draw_section(scene, SPINE)


def test_layers_are_told_from_the_nearest_to_the_farthest() -> None:
    told = Read(draw_section(layers(), SPINE, 70)).alternative.splitlines()
    assert told[0] == "From what lies nearest to you to what lies farthest: 3 layers."
    assert [line.partition(":")[0][0] for line in told[1:4]] == ["1", "2", "3"]
    assert "Label" in told[1]
    assert told[1].endswith("It lies on B.")
