"""What lay over, under, beside and behind a piece."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.host_states import lives_at_host, states_of
from guardbook.binding.neighbours import Neighbour, neighbours
from tests.binding.bench import at, dossier, iri, piece, placing, separation, volume

BOOK = iri("host", "Book")


def near(ours: dict[str, Any], theirs: dict[str, Any], *, stage: int = 1) -> tuple[Neighbour, ...]:
    """Put two pieces of 20 x 40 mm into one volume and ask what lay near the first."""
    found = dossier(
        volume("Book", "1510", "1650"),
        piece("Ours"),
        piece("Theirs"),
        placing("1", "Ours", "Book", 1, ours),
        placing("2", "Theirs", "Book", 1, theirs),
        separation("3", "Theirs", "Book", 2),
    )
    states = {state.number: state for state in states_of(found, BOOK, lives_at_host(found, BOOK))}
    return neighbours(states[stage], iri("fragment", "Ours"), found)


def relations(ours: dict[str, Any], theirs: dict[str, Any]) -> list[str]:
    return [one.relation for one in near(ours, theirs)]


@pytest.mark.parametrize(
    ("plane", "relation"),
    [
        ({"plane": "textblock-spine"}, "over"),
        ({"plane": "cover-outside"}, "over"),
        ({"plane": "cover-inside"}, "under"),
        ({"plane": "board-inside", "side": "upper"}, "under"),
        ({"plane": "fold", "gathering": 3}, "under"),
        ({"plane": "leaf", "leaf": 1, "leaf_side": "recto"}, "over"),
    ],
    ids=lambda value: str(value.get("plane", "")) if isinstance(value, dict) else value,
)
def test_layers_count_outwards_so_what_lies_over_depends_on_where_one_looks_from(
    plane: dict[str, Any], relation: str
) -> None:
    body = {key if key != "leaf_side" else "leafSide": value for key, value in plane.items()}
    ours, theirs = at("0", "0", **body, layer=1), at("5", "5", **body, layer=2)
    (one,) = near(ours, theirs)
    assert one.relation == relation
    assert one.overlap_mm2 == pytest.approx(15 * 35)
    assert relations(theirs, ours) == ["under" if relation == "over" else "over"]


@pytest.mark.parametrize("theirs", [at("0", "5"), at("0", "5", layer=1)], ids=["none said", "the same"])
def test_without_two_layers_it_is_not_known_which_lies_over_which(theirs: dict[str, Any]) -> None:
    assert relations(at("0", "0", layer=1), theirs) == ["overlapping"]


def test_a_piece_a_few_millimetres_away_lies_beside() -> None:
    (one,) = near(at("0", "0", layer=1), at("23.5", "0", layer=1))
    assert one.relation == "beside"
    assert one.gap_mm == pytest.approx(3.5)


def test_a_piece_far_away_is_no_neighbour() -> None:
    assert relations(at("0", "0"), at("0", "120")) == []


def test_a_lining_inside_lies_behind_what_is_at_the_mirrored_place_outside() -> None:
    assert relations(at("30", "0", "cover-outside"), at("-50", "0", "cover-inside")) == ["behind"]
    assert relations(at("30", "0", "cover-outside"), at("30", "0", "cover-inside")) == []


def test_a_board_has_the_same_place_on_both_faces() -> None:
    outside, inside = (
        at("30", "0", "board-outside", side="upper"),
        at("30", "0", "board-inside", side="upper"),
    )
    assert relations(outside, inside) == ["behind"]
    assert relations(outside, {**inside, "side": "lower"}) == []


def test_pieces_without_distances_are_neighbours_in_one_named_area() -> None:
    (one,) = near(at(panel=3, layer=1), at(panel=3, layer=2))
    assert (one.relation, one.measured) == ("over", False)
    assert relations(at(panel=3), at(panel=4)) == []


def test_a_lining_of_the_whole_back_takes_in_every_panel() -> None:
    assert relations(at(panel=3, layer=1), at(layer=2)) == ["over"]


def test_two_guards_in_unnamed_gatherings_are_not_known_to_be_neighbours() -> None:
    assert relations(at(plane="fold"), at(plane="fold")) == []
    assert relations(at("0", "0", "fold"), at("0", "0", "fold")) == []
    assert relations(at(plane="fold", gathering=2), at(plane="fold", gathering=2)) == ["overlapping"]


def test_pieces_that_name_a_gathering_and_no_plane_are_neighbours_there() -> None:
    assert relations(at(plane=None, gathering=2), at(plane=None, gathering=2)) == ["overlapping"]
    assert relations(at(plane=None), at(plane=None)) == []


def test_a_piece_that_was_gone_at_that_stage_is_no_neighbour() -> None:
    assert len(near(at("0", "0"), at("0", "0"), stage=1)) == 1
    assert near(at("0", "0"), at("0", "0"), stage=2) == ()
