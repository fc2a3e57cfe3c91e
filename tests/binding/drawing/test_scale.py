"""A drawing is to scale: a unit is a millimetre, axes and scale bar say so, and left is where one sees it."""

from __future__ import annotations

import pytest

from guardbook.binding.drawing.axes import round_step
from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.plane_keys import plane_called
from tests.binding.drawing.easel import Read, bounds, elements, extent, shelf

SPINE = plane_called("textblock-spine")


@pytest.mark.parametrize("narrow", [False, True])
def test_a_piece_of_100_mm_is_100_units_on_the_drawing(narrow: bool) -> None:
    scene = shelf(("Strip", "-20", "10", {"height": "100", "width": "40"}))
    read = Read(draw_plane(scene, SPINE, Look(narrow=narrow)))
    assert extent(read.piece("Strip")) == (40, 100)


@pytest.mark.parametrize("narrow", [False, True])
def test_a_unit_is_a_millimetre_when_the_drawing_is_printed_at_the_size_it_states(narrow: bool) -> None:
    scene = shelf(("Strip", "-20", "10", {}))
    read = Read(draw_plane(scene, SPINE, Look(narrow=narrow)))
    width, height = read.size
    assert read.root.attrib["width"] == f"{width:g}mm"
    assert read.root.attrib["height"] == f"{height:g}mm"
    assert f"Full size when {round(width)} mm wide" in read.words()


def test_pieces_keep_their_distances_and_the_head_is_up() -> None:
    scene = shelf(("Low", "-20", "10", {}), ("High", "-5", "120", {}))
    read = Read(draw_plane(scene, SPINE))
    low, high = bounds(read.piece("Low")), bounds(read.piece("High"))
    assert round(low[3] - high[3], 2) == 110
    assert round(high[0] - low[0], 2) == 15


def test_the_fore_edge_is_on_the_left_where_one_sees_it_there() -> None:
    place = {"plane": "board-inside", "side": "upper", "width": "10"}
    scene = shelf(("Spine end", "0", "0", place), ("Fore-edge end", "120", "0", place))
    read = Read(draw_plane(scene, plane_called("board-inside-upper")))
    at_spine, at_fore_edge = bounds(read.piece("Spine end")), bounds(read.piece("Fore-edge end"))
    assert round(at_spine[0] - at_fore_edge[0], 2) == 120


def test_the_figures_on_the_axes_stand_at_their_millimetres() -> None:
    scene = shelf(("Strip", "-20", "50", {"height": "50", "width": "40"}))
    read = Read(draw_plane(scene, SPINE))
    left, top, _, bottom = bounds(read.piece("Strip"))
    numbered = {text.text: text.attrib for text in elements(read.drawing, "text")}
    assert float(numbered["-20"]["x"]) == pytest.approx(left)
    up = {float(numbered[value]["y"]) for value in ("100", "60") if value in numbered}
    assert up, "figures are set along the height"
    off = float(numbered["100"]["y"]) - top
    assert float(numbered["60"]["y"]) - off == pytest.approx(bottom - 10)


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    read = Read(draw_plane(shelf(("Strip", "-20", "50", {})), SPINE))
    said = next(text for text in read.texts() if text.endswith(" mm") and text[:-3].isdigit())
    blocks = [float(block.attrib["width"]) for block in elements(read.drawing, "rect")]
    assert max(blocks) == float(said[:-3])
    assert sum(sorted(blocks)[:5]) == pytest.approx(max(blocks))


@pytest.mark.parametrize("least", [0.013, 0.1, 0.99, 1, 1.01, 3, 7, 19.9, 20, 51, 430])
def test_steps_of_a_scale_are_round_and_not_too_narrow(least: float) -> None:
    step = round_step(least)
    assert least * 0.99 <= step < least * 2.6
    assert f"{step:e}"[0] in "125"


def test_a_tall_drawing_is_no_longer_than_a_page_lets_one_see() -> None:
    scene = shelf(("Strip", "-5", "10", {"width": "8"}), height="400", spineWidth="12")
    width, height = Read(draw_plane(scene, SPINE)).size
    assert height < 1.3 * width
