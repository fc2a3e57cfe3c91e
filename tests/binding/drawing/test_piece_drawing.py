"""A piece drawn by itself: in its own frame, face by face, with the heights of its holes from the tail."""

from __future__ import annotations

from typing import Any

import pytest

from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.piece import draw_piece, faces_to_draw
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.plane_keys import plane_called
from guardbook.errors import WrongUse
from guardbook.records.fragment import Fragment
from guardbook.wording import speaking
from tests.binding.bench import piece
from tests.binding.drawing.easel import Read, bounds, extent, shelf

SERIES = [{"id": "#series-1", "use": "first-use"}]


def hole(number: int, x: str, y: str, **fields: Any) -> dict[str, Any]:
    given = {"id": f"#feature-{number}", "featureKind": "sewing-hole", "x": x, "y": y}
    return {**given, "inSeries": "#series-1", **fields}


def guard(*features: dict[str, Any], **fields: Any) -> Fragment:
    return piece("Guard", "200.0", "30.0", features=list(features), series=SERIES, **fields)


def test_a_piece_of_200_by_30_mm_is_drawn_so_large() -> None:
    read = Read(draw_piece(guard()))
    assert extent(read.piece("Guard")) == (30, 200)
    assert "The front, 200 × 30 mm" in read.words()


def test_holes_are_listed_from_the_tail_those_at_one_height_together() -> None:
    read = Read(draw_piece(guard(hole(1, "5", "150"), hole(2, "5", "12.5"), hole(3, "25", "12.5"))))
    assert "sewing hole, first use, from the tail: 2 × 12.5, 150 mm" in read.words()


def test_a_hole_without_a_place_is_told_and_not_drawn() -> None:
    found = guard({"id": "#feature-1", "featureKind": "sewing-hole"})
    assert "1 × sewing hole, its place on the piece not recorded" in Read(draw_piece(found)).words()


def test_a_stain_of_the_back_is_drawn_on_the_back_alone() -> None:
    stain = {"featureKind": "stain", "x": "0", "y": "0", "toX": "10", "toY": "10", "face": "back"}
    found = guard({"id": "#feature-1", **stain})
    assert faces_to_draw(found) == (True, False)
    assert "stain" in Read(draw_piece(found, front=False)).texts()
    assert "stain" not in Read(draw_piece(found)).texts()
    assert faces_to_draw(guard(hole(1, "5", "10"))) == (True,)


def test_the_back_is_named_by_the_face_behind_the_front() -> None:
    found = guard(frontFace="recto")
    assert "The front (recto)" in Read(draw_piece(found)).words()
    assert "The back (verso)" in Read(draw_piece(found, front=False)).words()


def test_what_is_left_on_the_front_is_right_on_the_back() -> None:
    found = guard(hole(1, "2", "100", goesThrough=True))

    def aside(*, front: bool) -> float:
        read = Read(draw_piece(found, front=front))
        left, _top, right, _bottom = bounds(read.piece("Guard"))
        spot = next(one for one in read.root.iter() if one.tag.endswith("use") and one.attrib.get("x"))
        return round((float(spot.attrib["x"]) - left) / (right - left), 2)

    assert (aside(front=True), aside(front=False)) == (0.07, 0.93)


def test_a_piece_without_size_cannot_be_drawn_and_says_what_to_measure() -> None:
    with pytest.raises(WrongUse, match="Measure its height and width"):
        draw_piece(piece("Thread", None, None))


def test_the_piece_that_is_asked_about_is_outlined_boldly_also_where_it_is_hidden() -> None:
    scene = shelf(("Low", "-20", "10", {"layer": 1}), ("High", "-20", "10", {"layer": 2}))
    low = next(item.piece for plane in scene.planes for item in plane.items if item.name == "Low")
    spine = plane_called("textblock-spine")
    assert "the piece that is asked about" in Read(draw_plane(scene, spine, Look(marked=low))).texts()
    assert "the piece that is asked about" not in Read(draw_plane(scene, spine)).texts()


def test_the_words_of_a_drawing_are_those_of_the_reader_and_trade_terms_their_labels() -> None:
    found = guard(hole(1, "5", "10"))
    with speaking("de"):
        german = Read(draw_piece(found)).texts()
    english = Read(draw_piece(found)).texts()
    assert "sewing hole, first use" in english
    assert "sewing hole, first use" not in german
