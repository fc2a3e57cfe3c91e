"""Positions without measures are drawn where their words say, and are said not to be measured."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.plane_keys import plane_called, plane_key
from tests.binding.bench import at, piece, placing, stage, volume
from tests.binding.stage_set import book, bounds, item, on, station

SUPPORTS = [station(n, str(y)) for n, y in enumerate((60, 150, 240), start=1)]
KETTLES = [station(9, "15", "kettle-stitch"), station(10, "285", "kettle-stitch")]
LEAF: dict[str, Any] = {"height": "300", "width": "200", "spineWidth": "40"}
BOOK = volume("Book", "1510", **LEAF, stations=SUPPORTS + KETTLES)
AREA_ITSELF = piece("Strip", None, None)
SMALL = piece("Strip", "20", "10")


def where(
    position: Any, of: Any = AREA_ITSELF, key: str = "textblock-spine", host: Any = BOOK, **fields: Any
) -> tuple[float, ...]:
    found = item(book(host, of, placing("put", "Strip", "Book", 1, position, **fields)), "Strip", key)
    assert not found.measured
    assert found.words.endswith("(its place is not measured)")
    return bounds(found)


@pytest.mark.parametrize(("panel", "bottom", "top"), [(1, 240, 300), (2, 150, 240), (3, 60, 150), (4, 0, 60)])
def test_panels_lie_between_the_supports_and_count_from_the_head(
    panel: int, bottom: float, top: float
) -> None:
    assert where(at(panel=panel)) == (-20, bottom, 20, top)


def test_a_volume_said_to_have_another_number_of_panels_is_divided_evenly() -> None:
    host = volume("Book", "1510", **LEAF, stations=SUPPORTS, panels=6)
    assert where(at(panel=2), host=host) == (-20, 200, 20, 250)


def test_a_panel_that_the_spine_does_not_have_is_the_whole_spine() -> None:
    assert where(at(panel=9)) == (-20, 0, 20, 300)


def test_a_panel_on_the_cover_lies_over_the_same_stretch_of_the_text_block() -> None:
    lain = [{"id": "#registration-1", "stage": stage("Book", 1), "dx": "0", "dy": "-3"}]
    host = volume("Book", "1510", **LEAF, stations=SUPPORTS, registrations=lain)
    assert where(at(plane="cover-outside", panel=2), key="cover-outside", host=host) == (-20, 153, 20, 243)


@pytest.mark.parametrize(
    ("position", "key", "edges"),
    [
        (at(plane="cover-outside", side="upper"), "cover-outside", (20, 0, 220, 300)),
        (at(plane="cover-outside", side="lower"), "cover-outside", (-220, 0, -20, 300)),
        (at(plane="cover-inside", side="upper"), "cover-inside", (-220, 0, -20, 300)),
        (at(plane="cover-outside", side="upper", edge="fore-edge"), "cover-outside", (190, 0, 220, 300)),
        (at(plane="cover-inside", side="upper", edge="fore-edge"), "cover-inside", (-220, 0, -190, 300)),
        (at(plane="cover-outside", side="upper", edge="spine"), "cover-outside", (20, 0, 50, 300)),
        (at(plane="cover-outside", edge="spine"), "cover-outside", (-20, 0, 20, 300)),
        (at(plane="cover-outside", edge="tail"), "cover-outside", (-220, 0, 220, 45)),
        (at(plane="textblock-spine", edge="head"), "textblock-spine", (-20, 255, 20, 300)),
        (at(plane="fold", gathering=3), "fold-3", (-30, 0, 30, 300)),
        (at(plane="fold", gathering=3, edge="tail"), "fold-3", (-30, 0, 30, 45)),
        (at(plane="leaf", leaf=3, leafSide="recto", edge="fore-edge"), "leaf-3-recto", (170, 0, 200, 300)),
        (at(plane="board-inside", side="lower"), "board-inside-lower", (0, 0, 200, 300)),
        (at(plane="board-inside", side="lower", edge="spine"), "board-inside-lower", (0, 0, 30, 300)),
    ],
)
def test_side_and_edge_name_a_part_of_the_plane(position: Any, key: str, edges: tuple[float, ...]) -> None:
    assert where(position, key=key) == edges


@pytest.mark.parametrize(
    ("position", "function", "key"),
    [
        (at(plane=None, gathering=4), None, "fold-4"),
        (at(plane=None, leaf=4, leafSide="verso"), None, "leaf-4-verso"),
        (at(plane=None, panel=2), None, "textblock-spine"),
        (at(plane=None, side="upper", hostFace="inside"), None, "board-inside-upper"),
        (at(plane=None), "spine-lining", "textblock-spine"),
        (at(plane=None, side="lower"), "pastedown", "board-inside-lower"),
        (at(plane=None), "cover", "cover-outside"),
    ],
)
def test_a_position_that_names_no_plane_is_on_the_one_its_words_or_its_function_imply(
    position: Any, function: str | None, key: str
) -> None:
    said = {"function": function} if function else {}
    scene = book(BOOK, SMALL, placing("put", "Strip", "Book", 1, position, **said))
    assert [one.name for one in on(scene, key).items] == ["Strip"]


def test_a_limp_binding_has_no_boards_so_a_side_of_it_is_a_side_of_the_cover() -> None:
    limp = volume("Book", "1510", **LEAF, bindingKind="limp")
    position = at(plane=None, side="upper", hostFace="inside")
    assert where(position, key="cover-inside", host=limp) == (-220, 0, -20, 300)


def test_a_measure_without_a_plane_is_no_measure() -> None:
    assert where(at("5", "100", None, panel=4), SMALL) == (-5, 20, 5, 40)


def test_a_piece_of_known_size_is_drawn_in_that_size_in_the_middle_of_its_area() -> None:
    assert where(at(panel=2), SMALL) == (-5, 185, 5, 205)


def test_a_piece_larger_than_its_area_stays_on_its_plane() -> None:
    assert where(at(edge="tail"), piece("Strip", "250", "20")) == (-10, 0, 10, 250)
    assert where(at(edge="tail"), piece("Strip", "400", "20")) == (-10, -50, 10, 350)


def test_what_is_known_of_one_distance_alone_is_kept() -> None:
    assert where(at(None, "100", panel=2), SMALL) == (-5, 100, 5, 120)
    assert where(at("-3", None, panel=2), SMALL) == (-3, 185, 7, 205)


def test_a_turned_piece_is_drawn_turned() -> None:
    assert where(at(panel=2, rotation="90"), SMALL) == (-10, 190, 10, 200)


def test_the_panels_of_a_scene_are_told_from_the_head() -> None:
    strip = placing("put", "Strip", "Book", 1, at(panel=2))
    panels = on(book(BOOK, SMALL, strip), "textblock-spine").panels
    assert [(panel.number, panel.bottom, panel.top) for panel in panels] == [
        (1, 240, 300),
        (2, 150, 240),
        (3, 60, 150),
        (4, 0, 60),
    ]


@pytest.mark.parametrize("key", ["cover-outside", "fold-12", "leaf-3-verso", "board-inside-lower"])
def test_a_plane_is_called_by_its_key(key: str) -> None:
    assert plane_key(plane_called(key)) == key
