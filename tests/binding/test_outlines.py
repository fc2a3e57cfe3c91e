"""The outline of a piece in its own frame and on its plane."""

from __future__ import annotations

import pytest
import shapely

from guardbook.binding.outlines import Shape, altered, shape_of
from tests.binding.bench import alteration, mm, piece, position

TRIANGLE = "POLYGON ((0 0, 30 0, 0 40, 0 0))"


def test_a_piece_without_a_drawn_outline_is_the_rectangle_of_its_height_and_width() -> None:
    drawn = shape_of(piece("Strip", "40.0", "20.0")).polygon
    assert drawn is not None
    assert drawn.bounds == (0, 0, 20, 40)


def test_a_drawn_outline_comes_before_height_and_width() -> None:
    drawn = shape_of(piece("Corner", "400", "300", outline=TRIANGLE)).polygon
    assert drawn is not None
    assert drawn.area == 600


def test_a_piece_of_unknown_width_has_no_outline_on_a_plane() -> None:
    shape = shape_of(piece("Strip", "40.0", None))
    assert shape.polygon is None
    assert shape.on_plane(position("1", "2")) is None


def test_a_turned_outline_is_mirrored_about_its_own_mid_line() -> None:
    drawn = Shape(outline=TRIANGLE).on_plane(position("100", "0", mirrored=True))
    assert drawn is not None
    left, _, right, _ = drawn.bounds
    assert [left, right] == [100, 130]
    points = [shapely.Point(129, 37), shapely.Point(101, 37)]
    assert [drawn.contains(point) for point in points] == [True, False]


@pytest.mark.parametrize(
    "outline",
    [
        "POLYGON ((0 0, 10 0, 10 10, 0 10))",
        "POLYGON ((0 0, 10 0, 20 0, 0 0))",
        f"POLYGON ((0 0, {'9' * 400} 0, 10 10, 0 0))",
    ],
    ids=["not closed", "a line", "past all measure"],
)
def test_an_outline_that_bounds_no_area_is_told_and_breaks_nothing(outline: str) -> None:
    shape = Shape(outline=outline)
    assert shape.unusable
    assert shape.polygon is None
    assert shape.on_plane(position("0", "0", mirrored=True)) is None


def test_an_outline_that_crosses_itself_is_the_areas_it_closes() -> None:
    shape = Shape(outline="POLYGON ((0 0, 10 10, 10 0, 0 10, 0 0))")
    assert not shape.unusable
    assert shape.polygon is not None
    assert shape.polygon.area == 50


def test_a_trimmed_piece_keeps_the_measure_that_was_not_cut() -> None:
    cut = altered(Shape(mm("40.0"), mm("20.0"), TRIANGLE), alteration("cut", "Strip", height="35.0"))
    assert cut == Shape(mm("35.0"), mm("20.0"), None)


def test_a_cleaned_piece_keeps_its_outline() -> None:
    before = Shape(mm("40.0"), mm("20.0"), TRIANGLE)
    assert altered(before, alteration("clean", "Strip", alterationKind="cleaned")) == before
