"""What holds of every scene, whatever happened: order, return, mirroring, and the answer to where it sat."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.transforms import PLANE_MIRROR
from guardbook.binding.whereabouts import whereabouts
from guardbook.records.base import Record
from guardbook.records.event import Event
from tests.binding.bench import at, dossier, iri, piece, placing, separation, volume
from tests.binding.happenings import HOSTS, RECORDS, happenings
from tests.binding.stage_set import book, hole, line

STAGES = {"Book": 3, "Other": 2}


def scenes(*events: Event) -> dict[tuple[str, int], dict[str, Any]]:
    known = dossier(*RECORDS, *events)
    return {
        (host, number): scene_of(known, iri("host", host), number).as_json()
        for host in HOSTS
        for number in range(1, STAGES[host] + 1)
    }


@given(happenings(), st.randoms(use_true_random=False))
def test_the_order_in_which_events_were_recorded_does_not_change_a_scene(
    events: list[Event], random: Any
) -> None:
    before = scenes(*events)
    random.shuffle(events)
    assert scenes(*events) == before


@st.composite
def told_in_stages(draw: st.DrawFn) -> list[tuple[int, Record]]:
    """Give the life of three pieces in one book, each event with its stage: placed, and perhaps taken off."""
    found: list[tuple[int, Record]] = []
    for name in ("One", "Two", "Three"):
        start, end = sorted(draw(st.lists(st.integers(1, 5), min_size=2, max_size=2, unique=True)))
        where = at(
            str(draw(st.integers(-15, 5))), str(draw(st.integers(0, 50))), layer=draw(st.integers(1, 3))
        )
        found.append((start, placing(f"put {name}", name, "Shelf", start, where)))
        if draw(st.booleans()):
            found.append((end, separation(f"off {name}", name, "Shelf", end)))
    return found


SHELF = (volume("Shelf", "1500", "1550", "1600", "1650", "1700"), piece("One"), piece("Two"), piece("Three"))


@given(told_in_stages(), st.randoms(use_true_random=False), st.integers(1, 5))
def test_only_the_events_up_to_a_stage_make_what_is_in_place_there(
    told: list[tuple[int, Record]], random: Any, stage: int
) -> None:
    random.shuffle(told)
    whole = book(*SHELF, *(event for _, event in told), stage=stage, name="Shelf")
    until = book(*SHELF, *(event for at_stage, event in told if at_stage <= stage), stage=stage, name="Shelf")
    assert in_place(whole) == in_place(until)


def in_place(scene: Scene) -> list[Any]:
    return [
        (plane.words, [item.as_json() for item in plane.items], [gap.as_json() for gap in plane.gaps])
        for plane in scene.planes
        if plane.items or plane.gaps
    ]


@given(happenings(), st.sampled_from([at("3", "4", layer=2), at(panel=2), at(plane=None)]))
def test_placing_a_piece_and_separating_it_again_returns_the_scene_before(
    events: list[Event], where: Any
) -> None:
    known = (*RECORDS, *events, volume("Desk", "1500", "1550", "1600"), piece("Guest"))
    resident = placing("stays", "Strip", "Desk", 1, at("0", "0", layer=1))
    on, off = placing("guest on", "Guest", "Desk", 2, where), separation("guest off", "Guest", "Desk", 3)
    before = scene_of(dossier(*known, resident), iri("host", "Desk"), 3)
    after = scene_of(dossier(*known, resident, on, off), iri("host", "Desk"), 3)
    assert items(after) == items(before)
    gone = [gap for plane in after.planes for gap in plane.gaps] + list(after.unplaced_gaps)
    assert [gap.name for gap in gone if gap.name == "Guest"] == ["Guest"]


def items(scene: Scene) -> list[dict[str, Any]]:
    everywhere = [item for plane in scene.planes for item in plane.items] + list(scene.unplaced)
    return [item.as_json() for item in everywhere]


@given(happenings())
def test_every_piece_of_a_scene_lies_where_the_piece_says_it_sat(events: list[Event]) -> None:
    known = dossier(*RECORDS, *events)
    for host in HOSTS:
        for number in range(1, STAGES[host] + 1):
            scene = scene_of(known, iri("host", host), number)
            if any(stage.is_planned for stage in scene.stages if stage.number == number):
                continue
            for name in ("Strip", "Comb"):
                told = where_told(known, iri("fragment", name), scene)
                shown = [bounds(item) for item in scene.of_piece(iri("fragment", name)) if item.measured]
                assert sorted(shown) == sorted(told)


def where_told(known: Any, piece_iri: str, scene: Scene) -> list[tuple[float, ...]]:
    """Give the bounds of a piece at a stage by the answer to where it sat, on planes that are told."""
    found = []
    for stay in whereabouts(known, piece_iri).as_json()["stays"]:
        for lay in stay["lays"] if stay["host"] == scene.host else ():
            if scene.stage in [stage["number"] for stage in lay["stages"]]:
                found += [p["bounds"] for p in lay["positions"] if p["bounds"] and "plane" in p]
    return [tuple(one[edge] for edge in ("left", "bottom", "right", "top")) for one in found]


def bounds(item: SceneItem) -> tuple[float, ...]:
    assert item.outline is not None
    return tuple(round(value, 2) for value in item.outline.bounds)


@given(
    st.integers(-200, 200),
    st.integers(-20, 100),
    st.sampled_from([0, 90, 180, 270, 17]),
    st.booleans(),
    st.lists(st.tuples(st.integers(0, 120), st.integers(0, 200)), min_size=1, max_size=4),
)
def test_outside_and_inside_views_of_one_feature_agree_after_mirroring(
    x: int, y: int, rotation: int, mirrored: bool, marks: list[tuple[int, int]]
) -> None:
    features = [hole(n, str(a), str(b), goesThrough=True) for n, (a, b) in enumerate(marks, start=1)]
    features.append(line(9, ("0", "0"), ("120", "200")))
    cover = piece("Cover", "200", "120", features=features)
    where = at(str(x), str(y), "cover-outside", rotation=str(rotation), mirrored=mirrored)
    scene = book(volume("Book", "1510"), cover, placing("put", "Cover", "Book", 1, where, function="cover"))
    outside, inside = (
        plane.items[0] if plane else None
        for plane in (scene.plane(plane_called(f"cover-{face}")) for face in ("outside", "inside"))
    )
    assert outside
    assert inside
    assert inside.outline
    assert outside.outline
    assert PLANE_MIRROR.shape(outside.outline).equals_exact(inside.outline, 1e-9)
    for seen, from_inside in zip(outside.features, inside.features, strict=True):
        assert [PLANE_MIRROR.point(*point) for point in seen.points] == [
            pytest.approx(point) for point in from_inside.points
        ]
        assert seen.id == from_inside.id


@given(happenings())
def test_a_piece_is_drawn_on_the_far_side_of_no_other_that_it_lies_over(events: list[Event]) -> None:
    known = dossier(*RECORDS, *events)
    for host in HOSTS:
        for plane in scene_of(known, iri("host", host), STAGES[host]).planes:
            drawn = [item.piece for item in plane.items if item.measured]
            for item in plane.items:
                if item.measured and len(set(drawn)) == len(drawn):
                    assert all(drawn.index(item.piece) < drawn.index(over) for over in item.over)
                    assert all(drawn.index(item.piece) > drawn.index(under) for under in item.under)
