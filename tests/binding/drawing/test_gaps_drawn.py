"""Where pieces are gone: places within one another stay apart, what is not measured strikes nothing out."""

from __future__ import annotations

from typing import Any

import shapely

from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene
from guardbook.records.base import Record
from tests.binding.bench import at, piece, placing, separation, volume
from tests.binding.drawing.easel import Read, bounds, elements, points
from tests.binding.stage_set import book

SPINE = PlaneName("textblock-spine")
EMPTY, AREA_ONLY = "a piece lay here and is gone", "place not measured: only the area is known"


def gone(*placed: tuple[str, str, str, str | None, str | None], **fields: Any) -> Scene:
    """Give a spine 40 x 200 mm of which each piece (name, height, width, x, y) has been taken off."""
    records: list[Record] = [volume("Book", "1500", "1900", height="200", thickness="40", **fields)]
    for name, high, wide, x, y in placed:
        records += [
            piece(name, high, wide),
            placing(f"put {name}", name, "Book", 1, at(x, y)),
            separation(f"off {name}", name, "Book", 2),
        ]
    return book(*records, stage=2)


def letters(read: Read) -> dict[str, tuple[float, float]]:
    marks = (mark for mark in elements(read.drawing, "text") if (mark.text or "").startswith("("))
    return {mark.text or "": (float(mark.attrib["x"]), float(mark.attrib["y"])) for mark in marks}


def test_the_letter_of_a_place_stands_clear_of_a_smaller_place_within_it() -> None:
    read = Read(
        draw_plane(gone(("Large", "160", "40", "-20", "20"), ("Small", "60", "30", "-15", "70")), SPINE)
    )
    found = letters(read)
    small = shapely.box(*bounds(read.piece("Small")))
    inside = {text for text, spot in found.items() if small.covers(shapely.Point(spot))}
    assert inside == {f"({read.letter('Small')})"}
    assert len(found) == 2


def test_an_empty_place_has_its_corners_struck_and_no_line_through_its_middle() -> None:
    read = Read(draw_plane(gone(("Large", "160", "40", "-20", "20")), SPINE))
    shape = read.piece("Large")
    left, top, right, bottom = bounds(shape)
    middle = shapely.Point((left + right) / 2, (top + bottom) / 2)
    assert len(points(shape.attrib["d"])) > 5
    assert shapely.MultiPoint(points(shape.attrib["d"])).distance(middle) > (right - left) / 4
    assert EMPTY in read.words()


def test_a_place_that_is_not_measured_is_not_struck_out() -> None:
    read = Read(draw_plane(gone(("Label", "30", "20", None, None)), SPINE))
    assert "not measured" in read.texts()
    assert EMPTY not in read.texts()
    assert AREA_ONLY in read.words()


def test_the_back_of_a_text_block_is_drawn_as_wide_as_it_is_though_a_lining_reaches_beyond() -> None:
    wide = [{"id": "#plane-1", "plane": "textblock-spine", "left": "-60", "right": "60"}]
    scene = gone(("Lining", "160", "120", "-60", "20"), planes=wide)
    read = Read(draw_plane(scene, SPINE))
    assert "edge of the back of the text block" in read.texts()
    left, _top, right, _bottom = bounds(read.piece("Lining"))
    edges = [
        (min(x), max(x))
        for path in elements(read.drawing, "path")
        if (x := [point[0] for point in points(path.attrib["d"])]) and len(x) in {4, 5}
    ]
    assert any(round(high - low) == 40 and left < low < high < right for low, high in edges)
