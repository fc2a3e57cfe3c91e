"""What holds of every drawing: the same scene gives the same bytes, and nonsense is drawn without harm."""

from __future__ import annotations

import random
from typing import Any

import pytest
from hypothesis import given, settings

from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.overlay import draw_overlay
from guardbook.binding.drawing.which import draw, drawings_of, most_telling
from guardbook.binding.overlay import overlay_of
from guardbook.binding.scene import scene_of
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from guardbook.records.event import Event
from tests.binding.bench import at, dossier, iri, piece, placing, volume
from tests.binding.drawing.easel import Read, elements, shelf
from tests.binding.happenings import HOSTS, RECORDS, happenings
from tests.binding.stage_set import book, hole, line, station
from tests.binding.test_scene_demo import seen as seen_at

MOST_BYTES = 300_000


@given(happenings())
@settings(max_examples=60)
def test_whatever_happened_every_drawing_can_be_made_and_read(events: list[Event]) -> None:
    known = dossier(*RECORDS, *events)
    for host in HOSTS:
        scene = scene_of(known, iri("host", host), 1)
        for name in drawings_of(scene):
            read = Read(draw(scene, name.key))
            width, height = read.size
            assert 0 < width < 5000
            assert 0 < height < 20000
            assert "nan" not in read.svg
            assert "inf" not in read.svg.replace("inferred", "")


@given(happenings())
@settings(max_examples=30)
def test_whatever_happened_two_volumes_are_drawn_over_each_other(events: list[Event]) -> None:
    spine = [{"id": "#plane-1", "plane": "textblock-spine", "left": "-20", "right": "20", "top": "90"}]
    known = dossier(*RECORDS[2:], *(volume(host, "1510", "1650", planes=spine) for host in HOSTS), *events)
    overlay = overlay_of(known, (iri("host", HOSTS[0]), 1), (iri("host", HOSTS[1]), 1))
    read = Read(draw_overlay(overlay))
    assert read.used(read.drawing) == read.used(read.legend)
    assert "nan" not in read.svg


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize(("title", "stage"), [("Toll book", 2), ("Decretals", 3), ("Antiphoner", 2)])
def test_the_same_scene_gives_the_same_bytes(title: str, stage: int, *, narrow: bool) -> None:
    look = Look(narrow=narrow)
    scene, again = seen_at(title, stage), seen_at.__wrapped__(title, stage)
    assert scene is not again
    for name in drawings_of(scene):
        assert draw(scene, name.key, look) == draw(again, name.key, look)


def test_ids_are_unique_in_a_page_of_many_drawings() -> None:
    scene = seen_at("Toll book", 2)
    ids: list[str] = []
    for name in drawings_of(scene):
        root = Read(draw(scene, name.key)).root
        ids += [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(ids) > 50
    assert len(set(ids)) == len(ids)


def test_a_name_given_to_a_drawing_begins_all_its_ids() -> None:
    root = Read(draw(seen_at("Toll book", 2), "cover-outside", Look(name="left"))).root
    assert all(one.attrib["id"].startswith("left-") for one in root.iter() if "id" in one.attrib)


def test_a_drawing_refers_to_nothing_outside_itself_and_holds_no_script() -> None:
    scene = seen_at("Decretals", 3)
    for name in drawings_of(scene):
        read = Read(draw(scene, name.key))
        links = [one.attrib["href"] for one in read.root.iter() if "href" in one.attrib]
        assert all(link.startswith("#") for link in links)
        assert not {"script", "style", "image", "foreignObject"} & {
            one.tag.partition("}")[2] for one in read.root.iter()
        }


def crowd(count: int) -> list[Record]:
    """Give a cover with many pieces on it, each with edges, holes and a fold, on several layers."""
    drawn = random.Random(7)
    records: list[Record] = [
        volume("Book", "1500", height="300", width="200", spineWidth="50", stations=[station(1, "30")])
    ]
    for number in range(count):
        name, (wide, high) = (
            f"Strip {number} of a psalter, from the spine",
            drawn.choice([(20, 30), (40, 60)]),
        )
        traces: list[dict[str, Any]] = [
            line(1, ("0", "0"), (str(wide), "0"), "cut-edge"),
            line(2, ("0", str(high)), (str(wide), str(high)), "torn-edge"),
            line(3, ("0", "9"), (str(wide), "9")),
            *(hole(n, str(2 * n), "5", goesThrough=True) for n in (4, 5, 6)),
        ]
        records.append(piece(name, str(high), str(wide), features=traces))
        x, y = drawn.uniform(-225, 180), drawn.uniform(0, 240)
        where = at(f"{x:.1f}", f"{y:.1f}", "cover-outside", layer=number % 5 + 1)
        records.append(placing(f"put {number}", name, "Book", 1, where))
    return records


@pytest.mark.parametrize("key", ["cover-outside", "closed", "section-cover-outside"])
def test_a_volume_with_200_pieces_is_drawn_in_less_than_300_kb(key: str) -> None:
    scene = book(*crowd(200))
    link = Look(link=lambda one: one.replace("https://guardbook.example", ""))
    assert len(draw(scene, key, link).encode()) < MOST_BYTES


def test_every_letter_of_a_crowd_is_on_the_sheet() -> None:
    read = Read(draw(book(*crowd(120)), "cover-outside"))
    width, height = read.size
    for text in elements(read.root, "text"):
        assert -1 <= float(text.attrib["x"]) <= width
        assert 0 <= float(text.attrib["y"]) <= height


def test_the_plane_with_most_pieces_is_drawn_where_none_is_asked_for() -> None:
    scene = shelf(
        ("One", "0", "0", {"plane": "board-inside", "side": "upper"}),
        ("Two", "0", "50", {"plane": "board-inside", "side": "upper"}),
        ("Three", "-10", "0", {}),
    )
    assert most_telling(scene) == "board-inside-upper"
    assert draw(scene) == draw(scene, "board-inside-upper")


def test_a_drawing_that_there_is_not_is_refused_with_those_there_are() -> None:
    scene = shelf(("Strip", "-10", "0", {}))
    with pytest.raises(
        WrongUse, match=r"no drawing called 'roof'.*There are: textblock-spine, section-textblock"
    ):
        draw(scene, "roof")
    with pytest.raises(WrongUse, match="no drawing called 'cover-outside'"):
        draw(scene, "cover-outside")


def test_a_volume_of_which_no_place_is_known_cannot_be_drawn() -> None:
    with pytest.raises(WrongUse, match="Nothing can be drawn of Book"):
        most_telling(shelf())
