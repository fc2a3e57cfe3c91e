"""The table of planes."""

from __future__ import annotations

import pytest

from guardbook.binding.planes import PLANES, PlaneName, plane_name
from guardbook.records.host import Plane
from guardbook.records.terms import all_concepts
from tests.binding.bench import position


def test_every_plane_of_the_terms_has_its_axes() -> None:
    assert set(PLANES) == set(all_concepts()["plane"])


def test_the_planes_are_those_of_the_model() -> None:
    """Zero of x, and where +x runs, as the model lays them down."""
    axes = {slug: (plane.x_zero, plane.x_towards) for slug, plane in PLANES.items()}
    assert axes == {
        "cover-outside": ("the centre of the spine", "the upper board"),
        "cover-inside": ("the centre of the spine", "the lower board"),
        "textblock-spine": ("the centre of the spine", "the upper side"),
        "fold": ("the fold", "the later leaf"),
        "leaf": ("the spine edge", "the fore-edge"),
        "board-outside": ("the spine edge", "the fore-edge"),
        "board-inside": ("the spine edge", "the fore-edge"),
    }


@pytest.mark.parametrize(
    ("plane", "back", "point"),
    [
        (PlaneName("cover-outside"), PlaneName("cover-inside"), (-12, 40)),
        (PlaneName("cover-inside"), PlaneName("cover-outside"), (-12, 40)),
        (PlaneName("board-inside", side="upper"), PlaneName("board-outside", side="upper"), (12, 40)),
        (
            PlaneName("leaf", leaf=4, leaf_side="recto"),
            PlaneName("leaf", leaf=4, leaf_side="verso"),
            (12, 40),
        ),
    ],
    ids=str,
)
def test_a_through_hole_has_one_place_on_each_face_of_a_sheet(
    plane: PlaneName, back: PlaneName, point: tuple[float, float]
) -> None:
    other = plane.other_face
    assert other is not None
    assert other.plane == back
    assert other.way.point(12, 40) == point
    again = back.other_face
    assert again is not None
    assert again.plane == plane
    assert again.way.point(*point) == (12, 40)


@pytest.mark.parametrize("slug", ["textblock-spine", "fold"])
def test_the_back_and_the_folds_of_a_text_block_have_no_other_face(slug: str) -> None:
    assert PlaneName(slug, gathering=1).other_face is None


def test_the_fore_edge_is_to_the_left_on_a_verso_and_on_the_inside_of_the_upper_board() -> None:
    reversed_ones = {
        (slug, value)
        for slug, axes in PLANES.items()
        for value in ("upper", "lower", "recto", "verso")
        if PlaneName(slug, side=value, leaf_side=value).is_seen_reversed and axes.named_by
    }
    assert reversed_ones == {("leaf", "verso"), ("board-inside", "upper"), ("board-outside", "lower")}


def test_a_position_and_the_plane_of_a_volume_meet_under_one_name() -> None:
    part = Plane.model_validate({"id": "#plane-1", "plane": "fold", "gathering": 3, "left": "-100"})
    assert plane_name(position(plane="fold", gathering=3, panel=2)) == plane_name(part)
    assert plane_name(position(plane="fold", gathering=4)) != plane_name(part)


def test_a_position_that_names_no_plane_is_on_none() -> None:
    assert plane_name(position(plane=None, gathering=3)) is None


def test_a_fold_without_its_gathering_may_be_any_fold() -> None:
    assert PlaneName("fold").is_one is False
    assert PlaneName("fold").phrase == "in a fold"
    assert PlaneName("fold", gathering=4).phrase == "in the fold of gathering 4"
