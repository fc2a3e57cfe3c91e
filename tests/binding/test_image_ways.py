"""Which picture shows a face of a piece, and where its pixels lie on the plane."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guardbook.binding.image_ways import affine_through, image_of_face, image_way
from guardbook.binding.transforms import of_frame
from guardbook.records.image import TiePoint
from tests.binding.bench import at, piece, placing, volume
from tests.binding.stage_set import book, item, picture

STRIP = piece("Strip", "40", "20", frontFace="recto")
# 10 pixels a mm, 5 mm of background all round
SCALED: dict[str, Any] = {"pixelsPerMm": "10", "pixelWidth": 300, "pixelHeight": 500}


def tie(number: int, pixel: tuple[float, float], mm: tuple[float, float]) -> TiePoint:
    given_ = {"id": f"#tie-{number}", "pixelX": pixel[0], "pixelY": pixel[1], "x": mm[0], "y": mm[1]}
    return TiePoint.model_validate(given_)


def test_the_picture_of_a_face_is_the_sharpest_in_plain_light_of_that_face() -> None:
    pictures = [
        picture("blurred", "Strip", face="recto", technique="visible-light", pixelsPerMm="4"),
        picture("sharp", "Strip", face="recto", technique="visible-light", pixelsPerMm="20"),
        picture("dark", "Strip", face="recto", technique="uv-fluorescence", pixelsPerMm="40"),
        picture("back", "Strip", face="verso", technique="visible-light"),
        picture("in place", "Strip", face="recto", plane="textblock-spine"),
    ]
    chosen = [image_of_face(STRIP, pictures, front=front) for front in (True, False, None)]
    assert [one.title if one else None for one in chosen] == ["sharp", "back", "sharp"]
    assert image_of_face(STRIP, pictures[:1], front=False) is None


def test_a_picture_with_a_scale_lies_upright_and_centred_on_its_piece() -> None:
    way = image_way(picture("shot", "Strip", **SCALED), STRIP, front=True)
    assert way
    assert way.point(50, 50) == pytest.approx((0, 40))
    assert way.point(250, 450) == pytest.approx((20, 0))


def test_a_picture_of_the_back_is_turned_over_onto_the_front() -> None:
    way = image_way(picture("shot", "Strip", face="verso", **SCALED), STRIP, front=False)
    assert way
    assert way.point(50, 50) == pytest.approx((20, 40))


@pytest.mark.parametrize("left_out", ["pixelsPerMm", "pixelWidth"])
def test_a_picture_without_scale_or_size_lies_nowhere(left_out: str) -> None:
    known = {key: value for key, value in SCALED.items() if key != left_out}
    assert image_way(picture("shot", "Strip", **known), STRIP, front=True) is None
    assert image_way(picture("shot", "Strip", **SCALED), piece("Strip", None, None), front=True) is None


@given(
    st.lists(st.tuples(st.integers(0, 4000), st.integers(0, 4000)), min_size=3, max_size=8, unique=True),
    st.integers(-180, 180),
    st.booleans(),
)
def test_tie_points_give_back_the_mapping_they_were_made_by(
    pixels: list[tuple[int, int]], rotation: int, mirrored: bool
) -> None:
    true = of_frame(30, -12, rotation=rotation, scale=0.05, mirrored_width=200 if mirrored else None)
    ties = [tie(n, pixel, tuple(round(v, 12) for v in true.point(*pixel))) for n, pixel in enumerate(pixels)]  # type: ignore[arg-type]
    found = affine_through(ties)
    (x0, y0), (x1, y1) = pixels[0], pixels[1]
    on_a_line = all((x1 - x0) * (y - y0) == (y1 - y0) * (x - x0) for x, y in pixels)
    assert (found is None) or not on_a_line
    if found:
        assert found.point(777, 1234) == pytest.approx(true.point(777, 1234), abs=1e-3)


def test_points_on_one_line_or_two_alone_say_nothing() -> None:
    ties = [tie(n, (n * 100, n * 50), (n * 10, n * 5)) for n in range(4)]
    assert affine_through(ties) is None
    assert affine_through(ties[:2]) is None


def test_a_picture_lies_on_the_plane_where_the_piece_does() -> None:
    shot = picture("shot", "Strip", face="recto", **SCALED)
    put = placing("put", "Strip", "Book", 1, at("-10", "100", rotation="90", mirrored=False))
    found = item(book(volume("Book", "1510"), STRIP, shot, put), "Strip", "textblock-spine")
    assert found.image == shot.id
    assert found.image_way
    # the tail-left corner of the strip is at pixel (50, 450), and was put at (-10, 100)
    assert found.image_way.point(50, 450) == pytest.approx((-10, 100))
    assert found.image_way.point(250, 450) == pytest.approx((-10, 120))


def test_a_piece_with_its_back_to_the_viewer_shows_the_picture_of_its_back() -> None:
    shots = (picture("front", "Strip", face="recto"), picture("back", "Strip", face="verso"))
    put = placing("put", "Strip", "Book", 1, at("0", "0", mirrored=True))
    found = item(book(volume("Book", "1510"), STRIP, *shots, put), "Strip", "textblock-spine")
    assert found.image == shots[1].id
