"""What lies under something else is not in sight, and its edges there are hidden lines."""

from __future__ import annotations

import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing.visible import LEAST_MM2, NOTHING, seen_parts
from guardbook.binding.scene_parts import SceneItem

BOXES = st.tuples(st.integers(0, 50), st.integers(0, 50), st.integers(1, 40), st.integers(1, 40)).map(
    lambda box: shapely.box(box[0], box[1], box[0] + box[2], box[1] + box[3])
)


def item(outline: BaseGeometry, **said: bool) -> SceneItem:
    return SceneItem(piece="p", name="n", words="", outline=outline, **said)  # type: ignore[arg-type]


@given(st.lists(BOXES, min_size=1, max_size=8))
def test_the_parts_in_sight_cover_the_same_as_the_pieces_and_do_not_overlap(
    shapes: list[BaseGeometry],
) -> None:
    seen = seen_parts([item(shape) for shape in shapes], NOTHING)
    together = shapely.union_all([one.area for one in seen])
    assert abs(together.area - shapely.union_all(shapes).area) <= LEAST_MM2 * len(shapes)
    assert abs(sum(one.area.area for one in seen) - together.area) < 1e-6
    assert seen[-1].area.equals(shapes[-1])


@given(BOXES, BOXES)
def test_hidden_lines_are_those_of_the_lower_piece_within_the_upper(
    low: BaseGeometry, high: BaseGeometry
) -> None:
    lower, upper = seen_parts([item(low), item(high)], NOTHING)
    assert upper.hidden_lines.is_empty
    assert lower.hidden_lines.length == low.boundary.intersection(high).length


def test_what_is_not_measured_hides_nothing() -> None:
    low = shapely.box(0, 0, 10, 10)
    seen = seen_parts([item(low), item(shapely.box(-5, -5, 20, 20), measured=False)], NOTHING)
    assert not seen[0].is_hidden
    assert seen[0].hidden_lines.is_empty


def test_what_is_on_the_other_face_is_hidden_by_the_sheet_but_the_sheet_is_not() -> None:
    sheet, patch = shapely.box(0, 0, 100, 100), shapely.box(10, 10, 20, 20)
    items = [item(patch, from_other_face=True), item(sheet, from_other_face=True, is_sheet=True)]
    behind, cover = seen_parts(items, sheet)
    assert behind.is_hidden
    assert not cover.is_hidden


def test_a_point_belongs_to_a_piece_where_it_is_in_sight() -> None:
    low, _ = seen_parts([item(shapely.box(0, 0, 20, 20)), item(shapely.box(10, 0, 30, 20))], NOTHING)
    assert low.sees([(5, 5), (0, 20), (15, 5)]) == [True, True, False]


def test_no_point_is_in_sight_of_a_piece_that_is_hidden() -> None:
    low, _ = seen_parts([item(shapely.box(0, 0, 20, 20)), item(shapely.box(-1, -1, 30, 30))], NOTHING)
    assert low.is_hidden
    assert low.sees([(5, 5)]) == [False]


def test_a_plane_without_pieces_shows_none() -> None:
    assert seen_parts([], NOTHING) == ()
