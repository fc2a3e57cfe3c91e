"""Names in any script, with any signs in them, are written whole and harm nothing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.drawing.lettering import isolated, lines_of, width
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.svg import mark, readable
from guardbook.binding.plane_keys import plane_called
from tests.binding.drawing.easel import Read, shelf

SPINE = plane_called("textblock-spine")
FIRST, LAST = "\u2068", "\u2069"
NAMES = [
    "A <b>bold</b> & \"quoted\" strip 'of' <script>alert(1)</script>",
    "מגילה קטנה",
    "رقعة صغيرة من الرق",
    "𝔊𝔬𝔱𝔥𝔦𝔠 strip 𐍈 🪡",
    "e\u0301te\u0301 a\u0300\u0323",
    "]]> -->",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_name_comes_back_as_it_was_given(name: str) -> None:
    read = Read(draw_plane(shelf((name, "-20", "10", {})), SPINE))
    assert read.piece(name) is not None
    assert name in read.alternative.replace(FIRST, "").replace(LAST, "")
    assert name in read.words().replace(FIRST, "").replace(LAST, "")


def test_a_name_makes_no_marks_of_its_own() -> None:
    plain = Read(draw_plane(shelf(("Strip", "-20", "10", {})), SPINE)).svg
    named = Read(draw_plane(shelf((NAMES[0], "-20", "10", {})), SPINE)).svg
    assert named.count("<b") == plain.count("<b")
    assert "<script" not in named


def test_a_name_from_right_to_left_does_not_turn_the_words_after_it() -> None:
    assert isolated("מגילה") == f"{FIRST}מגילה{LAST}"
    assert isolated("Strip") == "Strip"
    words = Read(draw_plane(shelf(("מגילה", "-20", "10", {})), SPINE)).words()
    assert f"{FIRST}מגילה{LAST}: measured" in words


@given(st.text(st.sampled_from("מגאab ,\u0301"), max_size=60), st.floats(3, 30))
def test_every_line_of_an_isolated_name_closes_what_it_opens(name: str, room: float) -> None:
    lines = lines_of(f"A {isolated(name)}: measured", room)
    assert all(line.count(FIRST) == line.count(LAST) for line in lines)


WRITTEN = st.text(st.characters(exclude_categories=("C", "Z")) | st.just(" "), max_size=80)


@given(WRITTEN, st.floats(2, 40))
def test_no_letter_is_lost_where_lines_are_broken_and_none_is_too_wide(text: str, room: float) -> None:
    lines = lines_of(text, room)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width(line) <= room for line in lines)


def test_an_accent_is_never_parted_from_its_letter() -> None:
    lines = lines_of("e\u0301" * 20, 3.0)
    assert len(lines) > 3
    assert not any(line.startswith("\u0301") for line in lines)


@given(st.text())
def test_any_text_can_be_written_and_read_again(text: str) -> None:
    svg = mark("svg", mark("title", text), mark("text", text, x=0, y=0, data=text))
    read = Read(svg).root
    assert read.attrib == {}
    wanted = readable(text)
    assert (read[1].text or "") == wanted.replace("\r\n", "\n").replace("\r", "\n")


def test_what_xml_cannot_hold_is_shown_as_a_replacement_sign() -> None:
    assert readable("a\x00b\x1fc\ud800d\uffff") == "a\ufffdb\ufffdc\ufffdd\ufffd"
    assert readable("tab\tline\n𐍈") == "tab\tline\n𐍈"


def test_a_wide_letter_takes_more_room_than_a_narrow_one_and_an_accent_none() -> None:
    assert width("W") > width("n") > width("i") > width("\u0301") == 0
    assert width("卷") == 1
    assert width("nn", 3) == pytest.approx(6 * width("n"))
