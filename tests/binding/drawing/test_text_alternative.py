"""Whoever does not see the drawing is told all that is on it: what lies where, over what, and how surely."""

from __future__ import annotations

import pytest

from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.which import draw, drawings_of
from guardbook.binding.plane_keys import plane_called
from tests.binding.drawing.easel import Read, elements, shelf
from tests.binding.stage_set import hole
from tests.binding.test_demo import demo, of_kind
from tests.binding.test_scene_demo import seen as seen_at

SPINE = plane_called("textblock-spine")


@pytest.mark.parametrize("iri", of_kind("host"))
def test_every_piece_on_a_plane_of_the_demo_is_drawn_and_told_in_words(iri: str) -> None:
    host = demo().host(iri)
    assert host
    for stage in host.stages:
        scene = seen_at(host.display_title, stage.number)
        for plane in scene.planes:
            read = Read(draw_plane(scene, plane.plane))
            for item in plane.items:
                assert read.pieces(item.name), (scene.name, plane.words, item.name)
                assert f"{read.letter(item.name)}: {item.name}" in read.alternative
            for gap in plane.gaps:
                assert gap.name in read.alternative
                assert gap.outline is None or read.pieces(gap.name)


def test_the_title_says_which_volume_stage_and_plane_it_is() -> None:
    read = Read(draw_plane(shelf(("Strip", "-20", "10", {})), SPINE))
    assert read.title == "Book · bound · The back of the text block"
    assert {"Book", "bound · The back of the text block"} <= set(read.texts())


def test_what_lies_where_and_over_what_is_told_in_words() -> None:
    scene = shelf(
        ("Strip", "-20", "10", {"height": "40", "width": "35", "layer": 1, "function": "spine-lining"}),
        ("Patch", "-30", "30", {"height": "50", "width": "60", "layer": 2, "certainty": "inferred"}),
    )
    told = Read(draw_plane(scene, SPINE)).alternative.replace("\u00a0", " ").splitlines()
    assert told[0] == "2 pieces on this plane."
    assert told[1].startswith(
        "B: Patch: inferred, layer 2. It lies from 30 mm towards the lower side to 30 mm"
    )
    assert "30 to 80 mm from the tail" in told[1]
    assert told[1].endswith("Under it: A.")
    assert told[2].startswith("A: Strip: spine lining, measured, layer 1.")
    assert told[2].endswith("Over it: B.")


def test_a_piece_that_lies_wholly_under_another_is_said_to_be_hidden() -> None:
    scene = shelf(
        ("Strip", "-10", "20", {"layer": 1}),
        ("Sheet over it", "-30", "0", {"height": "100", "width": "60", "layer": 2}),
    )
    told = Read(draw_plane(scene, SPINE)).alternative
    assert told.splitlines()[2].startswith("A: Strip")
    assert "All of it is hidden." in told.splitlines()[2]
    assert "hidden" not in told.splitlines()[1]


def test_holes_are_counted_by_kind_and_use_and_those_out_of_sight_told_apart() -> None:
    features = [hole(1, "5", "5", goesThrough=True), hole(2, "5", "9", goesThrough=True)]
    features.append(hole(3, "5", "9", "inscription", face="verso"))
    placed = {"features": features, "frontFace": "recto", "outwardFace": "recto"}
    told = Read(draw_plane(shelf(("Strip", "-10", "20", placed)), SPINE)).alternative
    assert "On it: 2 × sewing hole, use unknown." in told
    assert "On the face turned away, not drawn: 1 × inscription." in told


def test_an_image_names_its_title_and_its_text() -> None:
    read = Read(draw_plane(shelf(("Strip", "-20", "10", {})), SPINE))
    ids = {element.attrib["id"]: element.tag for element in read.root.iter() if "id" in element.attrib}
    assert read.root.attrib["role"] == "img"
    assert ids[read.root.attrib["aria-labelledby"]].endswith("title")
    assert ids[read.root.attrib["aria-describedby"]].endswith("desc")


def test_pieces_that_are_linked_can_be_reached_and_have_names() -> None:
    scene = shelf(("Strip", "-20", "10", {}))
    plain = Read(draw_plane(scene, SPINE))
    read = Read(draw_plane(scene, SPINE, Look(link=lambda iri: "/" + iri.split("/", 3)[3])))
    (link,) = elements(read.drawing, "a")
    assert link.attrib["href"].startswith("/fragment/")
    assert link[0].text == "A: Strip"
    assert read.root.attrib["role"] == "group", "what is in an image cannot be reached"
    assert not elements(plain.drawing, "a")


@pytest.mark.parametrize("narrow", [False, True])
def test_every_drawing_of_a_volume_has_a_title_and_a_text(narrow: bool) -> None:
    scene = seen_at("Herbal", 1)
    for name in drawings_of(scene):
        read = Read(draw(scene, name.key, Look(narrow=narrow)))
        assert scene.name in read.title
        assert len(read.alternative) > 20
