"""Leaf sizes and chain lines by format, against Aldis 1916 and the sheets of the Bologna stone after Briquet.

Both from memory. Published readings of the stone differ by up to 15 mm, which is the tolerance here. The
figures below were worked out by hand: a folio is the short side by half the long, a quarto half of each, an
octavo half the short by a quarter of the long.
"""

from __future__ import annotations

import pytest

from guardbook.binding.sheet_formats import BOLOGNA_SHEETS, TOLERANCE_MM, formats_proposed, leaves_of_sheet

# sheet, height and width in mm of folio, quarto, octavo
EXPECTED = {
    "imperiale": [(500, 370), (370, 250), (250, 185)],
    "realle": [(445, 307), (307, 222), (222, 154)],
    "meçane": [(345, 257), (257, 172), (172, 129)],
    "reçute": [(315, 225), (225, 157), (157, 112)],
}
CHAIN_LINES = {"folio": "vertical", "quarto": "horizontal", "octavo": "vertical"}
WATERMARK = {
    "folio": "the middle of the leaf",
    "quarto": "the middle of the spine fold",
    "octavo": "the head of the spine fold",
}


@pytest.mark.parametrize("sheet", EXPECTED)
def test_a_sheet_folded_once_twice_and_three_times_gives_leaves_of_the_sizes_in_the_handbooks(
    sheet: str,
) -> None:
    leaves = leaves_of_sheet(sheet, *BOLOGNA_SHEETS[sheet])[:3]
    for leaf, (height, width) in zip(leaves, EXPECTED[sheet], strict=True):
        assert leaf.height == pytest.approx(height, abs=TOLERANCE_MM)
        assert leaf.width == pytest.approx(width, abs=TOLERANCE_MM)


def test_chain_lines_and_watermark_lie_as_the_handbook_says() -> None:
    leaves = {leaf.format: leaf for leaf in leaves_of_sheet("reçute", *BOLOGNA_SHEETS["reçute"])}
    assert {name: leaves[name].chain_lines for name in CHAIN_LINES} == CHAIN_LINES
    assert {name: leaves[name].watermark for name in WATERMARK} == WATERMARK


@pytest.mark.parametrize("sheet", EXPECTED)
def test_chain_lines_run_along_the_short_side_of_the_sheet_however_often_it_is_folded(sheet: str) -> None:
    long, short = BOLOGNA_SHEETS[sheet]
    for leaf in leaves_of_sheet(sheet, long, short):
        upright_is_short = (short / leaf.height) % 1 == pytest.approx(0)
        assert leaf.chain_lines == ("vertical" if upright_is_short else "horizontal")


@pytest.mark.parametrize("sheet", EXPECTED)
@pytest.mark.parametrize("off", [-TOLERANCE_MM, 0, TOLERANCE_MM])
def test_a_leaf_read_15_mm_otherwise_still_points_to_its_format(sheet: str, off: float) -> None:
    for leaf in leaves_of_sheet(sheet, *BOLOGNA_SHEETS[sheet]):
        proposed = formats_proposed(leaf.height + off, leaf.width + off, leaf.chain_lines)
        assert leaf in [one.leaf for one in proposed if one.strength == "points-to"]


def test_several_formats_are_proposed_where_the_size_alone_cannot_tell_them_apart() -> None:
    # an octavo of realle paper and a quarto of reçute paper are as large as each other
    proposed = formats_proposed(215, 150)
    assert {(one.leaf.format, one.leaf.sheet) for one in proposed} >= {
        ("octavo", "realle"),
        ("quarto", "reçute"),
    }
    assert {one.strength for one in proposed} == {"fits"}


def test_chain_lines_tell_them_apart_but_force_nothing() -> None:
    proposed = formats_proposed(215, 150, "horizontal")
    strengths = {(one.leaf.format, one.leaf.sheet): one.strength for one in proposed}
    assert strengths["quarto", "reçute"] == "points-to"
    assert strengths["octavo", "realle"] == "speaks-against"
    assert proposed[0].leaf.format == "quarto"
    (against,) = next(one.speaks_against for one in proposed if one.leaf.format == "octavo")
    assert against == "chain lines run vertical in octavo as a rule, here they run horizontal"


def test_a_leaf_larger_than_any_sheet_gives_points_to_nothing() -> None:
    assert formats_proposed(600, 400) == ()
