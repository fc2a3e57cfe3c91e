"""The timeline: bars to scale, reasons with each bar, readable without seeing it."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from guardbook.binding.drawing.look import Look
from guardbook.errors import WrongUse
from guardbook.evidence.dated import Dating
from guardbook.evidence.timeline import draw_timeline
from tests.evidence.shelf import book, dated, pastedown

SVG = "{http://www.w3.org/2000/svg}"


def drawn(found: Dating, *, narrow: bool = False) -> ET.Element:
    return ET.fromstring(draw_timeline(found, Look(narrow=narrow)))  # noqa: S314  # our own drawing


def bars(found: Dating) -> list[tuple[float, float, float]]:
    """Give where each bar begins and ends, and its height."""
    rects = [rect for row in drawn(found).iter(f"{SVG}g") for rect in row.iter(f"{SVG}rect")]
    return [
        (float(r.attrib["x"]), float(r.attrib["x"]) + float(r.attrib["width"]), float(r.attrib["height"]))
        for r in rects
    ]


def test_a_bar_is_as_long_as_the_time_that_is_left() -> None:
    found = dated(book("1600/1649", "1700/1799", "1900"))
    text, bound, *_ = [bar for bar in bars(found) if bar[2] == 2]
    assert (bound[1] - bound[0]) / (text[1] - text[0]) == pytest.approx(2.0, rel=0.01)
    assert bound[0] > text[1]


def test_what_is_proved_is_drawn_hollow_beside_what_is_stated() -> None:
    drawing = drawn(dated(book("1600", "1650~", "2020"), *pastedown("1610")))
    rects = [rect.attrib for row in drawing.iter(f"{SVG}g") for rect in row.iter(f"{SVG}rect")]
    looks = {(rect["fill"], rect["height"]) for rect in rects}
    assert len({fill for fill, _ in looks}) == len({height for _, height in looks}) == len(looks) == 2


def arrows(drawing: ET.Element) -> list[float]:
    """Give how high the base of each arrow is, in mm."""
    paths = [path.attrib["d"] for path in drawing.iter(f"{SVG}path") if path.attrib["d"].endswith("Z")]
    ends = [re.fullmatch(r"M\S+ \S+L\S+ (\S+)V(\S+)Z", path) for path in paths]
    return [float(end[2]) - float(end[1]) for end in ends if end]


def test_a_side_that_nothing_bounds_has_an_arrow() -> None:
    open_end = arrows(drawn(dated(book("1600", "1650/..", None))))
    closed = arrows(drawn(dated(book("1600", "1650", "1700"))))
    assert max(open_end) > max(closed)
    # that the last stage was not later than 1700 is stated, and proved by nothing: the hollow bar is open
    assert len(closed) == 1


def test_the_reasons_are_with_each_bar_and_the_whole_is_told_in_words() -> None:
    found = dated(book("1600"), *pastedown("1712"))
    drawing = drawn(found)
    titles = [title.text or "" for row in drawing.iter(f"{SVG}g") for title in row.iter(f"{SVG}title")]
    assert any("Not before 1712" in title for title in titles)
    told = drawing.find(f"{SVG}desc")
    assert told is not None
    assert (told.text or "").split() == found.words().split()
    assert drawing.attrib["role"] == "img"


def test_a_narrow_timeline_is_as_narrow_as_a_phone_and_breaks_its_lines() -> None:
    found = dated(book("1600"), *pastedown("1712", original="uncertain"))
    wide, narrow = drawn(found), drawn(found, narrow=True)
    assert float(narrow.attrib["width"].removesuffix("mm")) == 90
    assert len(list(narrow.iter(f"{SVG}tspan"))) > len(list(wide.iter(f"{SVG}tspan")))


def test_where_nothing_is_dated_there_is_nothing_to_draw() -> None:
    with pytest.raises(WrongUse, match="no timeline to draw"):
        draw_timeline(dated(book(None, None)))
