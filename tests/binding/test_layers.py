"""In which order the pieces on a plane are seen, and which lie on which."""

from __future__ import annotations

from itertools import count
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.host_states import lives_at_host, states_of
from guardbook.binding.layers import stacked
from guardbook.binding.neighbours import neighbours
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene_parts import SceneItem
from guardbook.records.base import Record
from tests.binding.bench import at, dossier, iri, piece, placing, volume
from tests.binding.stage_set import book

OUTSIDE, INSIDE = plane_called("cover-outside"), plane_called("cover-inside")


def lying(name: str, layer: int | None = None, left: float = 0, size: float = 10, **fields: Any) -> SceneItem:
    outline = shapely.box(left, 0, left + size, size)
    return SceneItem(piece=name, name=name, words="", outline=outline, layer=layer, **fields)


@pytest.mark.parametrize(
    ("plane", "order"), [(OUTSIDE, ["one", "two", "three"]), (INSIDE, ["three", "two", "one"])]
)
def test_outer_layers_are_nearer_from_outside_and_farther_from_inside(plane: Any, order: list[str]) -> None:
    items = [lying("two", 2), lying("three", 3), lying("one", 1)]
    assert [item.piece for item in stacked(items, plane)] == order


def test_what_lies_over_and_under_is_told_of_each_and_turns_round_on_the_inside() -> None:
    items = [lying("one", 1), lying("two", 2)]
    one, two = stacked(items, OUTSIDE)
    assert (one.over, one.under, two.over, two.under) == (("two",), (), (), ("one",))
    two, one = stacked(items, INSIDE)
    assert (one.over, one.under, two.over, two.under) == ((), ("two",), ("one",), ())


def test_pieces_on_one_layer_or_on_none_overlap_in_an_order_that_is_not_known() -> None:
    for layers in ((1, 1), (None, 1), (None, None)):
        items = [lying(name, layer) for name, layer in zip("ab", layers, strict=True)]
        told = {item.piece: (item.over, item.under, item.overlapping) for item in stacked(items, OUTSIDE)}
        assert told == {"a": ((), (), ("b",)), "b": ((), (), ("a",))}


def test_pieces_that_only_touch_lie_on_nothing() -> None:
    for left in (10, 9.95):
        found = stacked([lying("one", 1), lying("two", 2, left=left)], OUTSIDE)
        assert all(item.over == item.under == item.overlapping == () for item in found)


def test_a_small_piece_is_not_hidden_behind_a_large_one_of_the_same_layer() -> None:
    items = [lying("small", 1, size=2), lying("large", 1, size=50), lying("unknown", None, size=90)]
    assert [item.piece for item in stacked(items, OUTSIDE)] == ["large", "small", "unknown"]


def test_a_cover_seen_from_its_back_is_farther_than_all_that_lies_on_it_whatever_its_layer() -> None:
    cover = lying("cover", 5, size=90, is_sheet=True, from_other_face=True)
    found = {item.piece: item for item in stacked([lying("patch", 7), cover], INSIDE)}
    assert list(found) == ["cover", "patch"]
    assert (found["cover"].over, found["patch"].under) == (("patch",), ("cover",))


def test_a_piece_that_is_not_measured_is_said_to_lie_on_nothing() -> None:
    found = stacked([lying("one", 1), lying("two", 2, measured=False)], OUTSIDE)
    assert all(item.over == item.under == () for item in found)


@given(
    st.lists(
        st.tuples(st.integers(-30, 30), st.integers(0, 60), st.none() | st.integers(0, 3)),
        min_size=2,
        max_size=6,
    ),
    st.sampled_from(["textblock-spine", "cover-inside"]),
)
def test_what_lies_over_what_is_told_as_the_neighbours_of_each_piece_are(
    places: list[tuple[int, int, int | None]], plane: str
) -> None:
    numbers = count()
    records: list[Record] = [volume("Book", "1510")]
    for x, y, layer in places:
        name = f"P{next(numbers)}"
        records += [piece(name), placing(name, name, "Book", 1, at(str(x), str(y), plane, layer=layer))]
    scene = book(*records)
    known = dossier(*records)
    (state,) = states_of(known, iri("host", "Book"), lives_at_host(known, iri("host", "Book")))
    for found in scene.planes:
        for one in found.items:
            near = neighbours(state, one.piece, known)
            for relation in ("over", "under", "overlapping"):
                told = tuple(sorted(other.piece for other in near if other.relation == relation))
                assert getattr(one, relation) == told
