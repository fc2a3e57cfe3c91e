"""Pictures of pieces are put in their places, but only if asked for; and a drawing becomes PNG."""

from __future__ import annotations

import struct
import zlib

import pytest

from guardbook.binding.drawing.look import Look, Picture
from guardbook.binding.drawing.plane import draw_plane
from guardbook.binding.drawing.png import png_of
from guardbook.binding.plane_keys import plane_called
from guardbook.binding.scene import Scene
from guardbook.errors import WrongUse
from tests.binding.bench import at, piece, placing, volume
from tests.binding.drawing.easel import Read, bounds, elements, shelf
from tests.binding.stage_set import book, picture

SPINE = plane_called("textblock-spine")


def photographed() -> tuple[Scene, str]:
    shot = picture("shot", "Strip", face="front", pixelsPerMm="10", pixelWidth=200, pixelHeight=400)
    scene = book(
        volume("Book", "1500", height="200", spineWidth="60"),
        piece("Strip", frontFace="front"),
        placing("put", "Strip", "Book", 1, at("-10", "50"), outwardFace="front"),
        shot,
    )
    return scene, shot.id


def test_a_picture_lies_where_its_piece_lies_and_is_cut_to_it() -> None:
    scene, shot = photographed()
    look = Look(pictures={shot: Picture("https://images.example/strip.jpg", 200, 400)})
    read = Read(draw_plane(scene, SPINE, look))
    (image,) = elements(read.drawing, "image")
    a, b, c, d, e, f = map(float, image.attrib["transform"][7:-1].split())
    left, top, right, bottom = bounds(read.piece("Strip"))
    assert (b, c) == (0, 0)
    assert (e, f) == pytest.approx((left, top), abs=0.02)
    assert (e + 200 * a, f + 400 * d) == pytest.approx((right, bottom), abs=0.02)
    assert image.attrib["href"] == "https://images.example/strip.jpg"
    (cut,) = elements(read.root, "clipPath")
    assert bounds(cut[0]) == (left, top, right, bottom)


def test_a_picture_that_was_not_handed_over_is_not_referred_to() -> None:
    scene, shot = photographed()
    read = Read(draw_plane(scene, SPINE))
    assert not elements(read.root, "image")
    assert shot not in read.svg


def size_of(png: bytes) -> tuple[int, int]:
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", png[16:24])
    return width, height


@pytest.mark.parametrize("width", [390, 1200])
def test_a_png_is_as_wide_as_asked_and_keeps_the_proportions(width: int) -> None:
    svg = draw_plane(shelf(("Strip", "-10", "0", {})), SPINE)
    wide, high = Read(svg).size
    assert size_of(png_of(svg, width)) == pytest.approx((width, width * high / wide), abs=1)


def test_a_png_has_the_words_of_the_drawing() -> None:
    svg = draw_plane(shelf(("Strip", "-10", "0", {})), SPINE)
    bare = svg.replace("Strip: measured", "              ")
    assert png_of(svg, 600) != png_of(bare, 600), "the font that comes with the program is found"


def test_a_png_is_the_same_each_time() -> None:
    svg = draw_plane(shelf(("Strip", "-10", "0", {})), SPINE)
    assert zlib.crc32(png_of(svg, 500)) == zlib.crc32(png_of(svg, 500))


@pytest.mark.parametrize("width", [0, -5, 59, 10_001])
def test_a_png_too_small_or_too_large_is_refused(width: int) -> None:
    with pytest.raises(WrongUse, match="Expected a width of 60 to 10000 pixels"):
        png_of(draw_plane(shelf(("Strip", "-10", "0", {})), SPINE), width)


def test_only_our_own_drawings_become_png() -> None:
    with pytest.raises(WrongUse, match="Only drawings made here"):
        png_of("<svg/>", 600)
