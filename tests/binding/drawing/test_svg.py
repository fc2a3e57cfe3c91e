"""Drawings are written short and alike each time."""

from __future__ import annotations

import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing.svg import mark, number, path_of
from tests.binding.drawing.easel import points

COORDINATE = st.floats(-2000, 2000)
POINTS = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=2, max_size=12)


@given(st.floats(-1e6, 1e6))
def test_a_number_is_right_to_the_hundredth_and_has_no_idle_digits(value: float) -> None:
    text = number(value)
    assert abs(float(text) - value) <= 0.005 + 1e-6
    assert text != "-0"
    assert not ("." in text and text.endswith(("0", ".")))


@given(POINTS)
def test_a_path_goes_through_its_points_however_long_it_is(given_points: list[tuple[float, float]]) -> None:
    read = points(path_of(shapely.LineString(given_points)))
    rounded = [given_points[0]]
    for x, y in given_points[1:]:
        if (round(x * 100), round(y * 100)) != tuple(round(value * 100) for value in rounded[-1]):
            rounded.append((x, y))
    for (x, y), (to_x, to_y) in zip(read, given_points, strict=False):
        if len(read) == len(given_points):
            assert abs(x - to_x) <= 0.0051
            assert abs(y - to_y) <= 0.0051
    assert abs(read[-1][0] - given_points[-1][0]) <= 0.0051 * max(1, len(rounded) / 1000)


def test_a_hole_in_an_area_is_drawn_as_a_ring_of_its_own() -> None:
    ring: BaseGeometry = shapely.box(0, 0, 10, 10).difference(shapely.box(4, 4, 6, 6))
    path = path_of(ring)
    assert path.count("M") == path.count("z") == 2


def test_what_has_no_extent_draws_nothing() -> None:
    assert path_of(shapely.GeometryCollection()) == ""
    assert path_of(shapely.Point(3, 4)) == ""


def test_attributes_are_named_as_svg_names_them_and_missing_ones_left_out() -> None:
    assert mark("path", stroke_width=0.5, fill=None, class_="a<b") == (
        '<path stroke-width="0.5" class="a&lt;b"/>'
    )
