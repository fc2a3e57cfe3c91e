"""From a piece's own frame to a plane and back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.transforms import PLANE_MIRROR, Affine, of_frame, of_position, shift
from tests.binding.bench import position

lengths = st.floats(-1000, 1000)
mappings = st.builds(
    of_frame,
    lengths,
    lengths,
    rotation=st.floats(-360, 360),
    scale=st.floats(0.5, 2),
    mirrored_width=st.none() | st.floats(0, 1000),
)


def near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one == pytest.approx(other, abs=1e-9, rel=1e-9)


@given(mapping=mappings, x=lengths, y=lengths)
def test_the_way_back_leads_to_where_it_began(mapping: Affine, x: float, y: float) -> None:
    assert near(mapping.inverse().point(*mapping.point(x, y)), (x, y))
    assert near(mapping.point(*mapping.inverse().point(x, y)), (x, y))


@given(first=mappings, second=mappings, x=lengths, y=lengths)
def test_two_steps_are_one_mapping(first: Affine, second: Affine, x: float, y: float) -> None:
    assert near(second.after(first).point(x, y), second.point(*first.point(x, y)))


@given(x=lengths, y=lengths)
def test_a_hole_seen_outside_and_then_mirrored_is_where_the_inside_shows_it(x: float, y: float) -> None:
    assert PLANE_MIRROR.point(x, y) == (-x, y)
    assert PLANE_MIRROR.after(PLANE_MIRROR).point(x, y) == (x, y)


def test_a_piece_lies_with_its_tail_left_corner_where_its_position_says() -> None:
    mapping = of_position(position("12.5", "-3.0"), 20)
    assert mapping is not None
    assert mapping.point(0, 0) == (12.5, -3.0)
    assert mapping.point(20, 40) == (32.5, 37.0)


def test_a_piece_turned_over_stays_within_the_same_edges() -> None:
    mapping = of_position(position("10", "5", mirrored=True), 20)
    assert mapping is not None
    assert mapping.point(0, 0) == (30, 5)
    assert mapping.point(20, 0) == (10, 5)


def test_a_quarter_turn_anticlockwise_sends_the_right_edge_up() -> None:
    mapping = of_position(position("0", "0", rotation="90"), 20)
    assert mapping is not None
    assert mapping.point(20, 0) == (0, 20)


def test_a_shrunk_piece_is_drawn_at_the_size_it_had_in_place() -> None:
    mapping = of_position(position("0", "0", scale="1.02"), 20)
    assert mapping is not None
    assert near(mapping.point(100, 50), (102, 51))


def test_a_position_without_distances_has_no_mapping() -> None:
    assert of_position(position(panel=3), 20) is None
    assert of_position(position("1"), 20) is None


def test_a_turned_piece_of_unknown_width_has_no_mapping() -> None:
    assert of_position(position("1", "2", mirrored=True), None) is None
    assert of_position(position("1", "2"), None) is not None


@given(rotation=st.integers(-360, 360), mirrored=st.booleans())
def test_on_a_plane_seen_reversed_a_front_face_is_still_seen_as_a_front_face(
    rotation: int, mirrored: bool
) -> None:
    """There +x runs to the viewer's left, so what the viewer sees is the mirror image of the coordinates."""
    where = position("0", "0", rotation=str(rotation), mirrored=mirrored)
    straight, turned = of_position(where, 20), of_position(where, 20, reversed_plane=True)
    assert straight is not None
    assert turned is not None
    seen = PLANE_MIRROR.after(turned)
    for own, other in (
        (straight.a, seen.a),
        (straight.b, seen.b),
        (straight.d, seen.d),
        (straight.e, seen.e),
    ):
        assert own == pytest.approx(other, abs=1e-9)


def test_the_cover_registers_on_the_text_block_by_a_shift() -> None:
    assert shift(1.5, -2).point(10, 10) == (11.5, 8)


def test_a_mapping_that_flattens_cannot_be_undone() -> None:
    with pytest.raises(ValueError, match="cannot be undone"):
        Affine(1, 2, 2, 4, 0, 0).inverse()
