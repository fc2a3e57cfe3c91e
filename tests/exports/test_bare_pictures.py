"""What the public gets of a picture's file is the picture, its colours and which way up, and nothing else."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from guardbook.exports.pictures.bare import bare, can_be_bared
from guardbook.exports.pictures.which_way_up import exif_that_says_only, orientation_in
from guardbook.imaging.smaller import smaller
from tests.exports.taken_pictures import ORIENTATION, PROFILE, SECRETS, jpeg, picture, png, tiff, webp

# name, description, camera, program, day, XMP, IPTC, Photoshop, Exif, place
NOTES = {315, 270, 271, 272, 305, 306, 700, 33723, 34377, 34665, 34853}
Maker = Callable[..., bytes]
each_kind = pytest.mark.parametrize("made", [jpeg, png, webp, tiff], ids=lambda made: made.__name__)


def told_in(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


def pixels(data: bytes) -> bytes:
    return told_in(data).convert("RGB").tobytes()


def bared(data: bytes) -> bytes:
    found = bare(data)
    assert found is not None
    return found


@each_kind
def test_names_places_and_serial_numbers_are_gone(made: Maker) -> None:
    data = made()
    assert any(word.encode() in data for word in SECRETS)
    given_out = bared(data)
    assert not any(
        word.encode() in given_out for word in (*SECRETS, "Camera obscura", "GPS", "adobe:ns:meta")
    )
    assert not set(told_in(given_out).getexif()) & NOTES
    assert not told_in(given_out).info.keys() & {"comment", "xmp", "photoshop", "Author", "XML:com.adobe.xmp"}


@each_kind
def test_the_picture_itself_is_not_touched(made: Maker) -> None:
    data = made()
    assert pixels(bared(data)) == pixels(data)
    assert told_in(bared(data)).info["icc_profile"] == PROFILE


@each_kind
@pytest.mark.parametrize("orientation", range(2, 9))
def test_the_picture_stays_the_same_way_up(made: Maker, orientation: int) -> None:
    given_out = told_in(bared(made(orientation)))
    assert given_out.getexif()[ORIENTATION] == orientation


@each_kind
def test_a_picture_that_lies_as_it_is_gets_no_exif_at_all(made: Maker) -> None:
    for orientation in (None, 1):
        given_out = bared(made(orientation))
        assert told_in(given_out).getexif().get(ORIENTATION, 1) == 1
        assert made is tiff or b"Exif" not in given_out
        assert b"eXIf" not in given_out


@each_kind
def test_taking_notes_out_twice_changes_nothing(made: Maker) -> None:
    once = bared(made())
    assert bared(once) == once


@pytest.mark.parametrize("words", [{"progressive": True}, {"optimize": True}, {"subsampling": 2}])
def test_jpeg_of_other_makings_is_the_same_picture(words: dict[str, Any]) -> None:
    data = jpeg(**words)
    assert pixels(bared(data)) == pixels(data)


def test_a_thumbnail_within_a_jpeg_is_gone() -> None:
    plain = io.BytesIO()
    picture().save(plain, "JPEG")
    whole = plain.getvalue()
    header = b"JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x01\x01" + b"abc"
    with_thumbnail = b"\xff\xd8\xff\xe0" + (len(header) + 2).to_bytes(2, "big") + header + whole[20:]
    assert b"abc" in with_thumbnail
    assert bared(with_thumbnail) == whole


def test_a_jpeg_in_four_inks_keeps_what_says_how_its_colours_are_turned() -> None:
    output = io.BytesIO()
    picture("CMYK").save(output, "JPEG")
    data = output.getvalue()
    assert b"Adobe" in bared(data)
    assert pixels(bared(data)) == pixels(data)


@pytest.mark.parametrize("compression", ["raw", "tiff_lzw", "tiff_adobe_deflate", "packbits", "jpeg"])
def test_tiff_of_every_packing_is_the_same_picture(compression: str) -> None:
    data = tiff(compression=compression)
    assert pixels(bared(data)) == pixels(data)


def test_every_page_of_a_tiff_stays() -> None:
    data = tiff(pages=3)
    given_out, kept = told_in(bared(data)), told_in(data)
    assert SECRETS[3].encode() not in bared(data)
    for page in range(3):
        given_out.seek(page)
        kept.seek(page)
        assert given_out.tobytes() == kept.tobytes()
    with pytest.raises(EOFError):
        given_out.seek(3)


@each_kind
def test_a_file_that_is_cut_off_is_not_given_out_whole(made: Maker) -> None:
    data = made()
    for part in range(2, len(data) - 60, 7):
        found = bare(data[:part])
        assert found is None or not any(word.encode() in found for word in SECRETS)


@each_kind
def test_any_damage_is_borne(made: Maker) -> None:
    data = made()

    @given(at=st.integers(0, len(data) - 1), value=st.integers(0, 255))
    def check(at: int, value: int) -> None:
        found = bare(data[:at] + bytes((value,)) + data[at + 1 :])
        assert found is None or found[:2] == data[:2]

    check()


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"<svg/>", b"\x00" * 100, b"II*\x00", b"RIFF....WEBP"])
def test_what_is_of_another_kind_or_empty_is_none(data: bytes) -> None:
    assert bare(data) is None


def test_a_kind_is_told_by_the_first_bytes_and_not_by_the_name(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    folder = tmp_path_factory.mktemp("pictures")
    for data, can in ((jpeg(), True), (png(), True), (tiff(), True), (webp(), True), (b"GIF89a", False)):
        (folder / "picture.jpg").write_bytes(data)
        assert can_be_bared(folder / "picture.jpg") is can


@pytest.mark.parametrize("orientation", range(1, 9))
def test_which_way_up_is_read_as_it_is_written(orientation: int) -> None:
    assert orientation_in(exif_that_says_only(orientation)) == orientation


@pytest.mark.parametrize("exif", [b"", b"II*\x00\xff\xff\xff\xff", b"MM\x00*\x00\x00\x00\x08\x00\x09"])
def test_broken_exif_says_nothing_of_which_way_up(exif: bytes) -> None:
    assert orientation_in(exif) == 1


@each_kind
def test_a_picture_made_smaller_holds_nothing_beside_itself(made: Maker, tmp_path: Path) -> None:
    (tmp_path / "picture").write_bytes(made())
    small = smaller(tmp_path / "picture", 160)
    assert small is not None
    assert not any(word.encode() in small for word in (*SECRETS, "Camera obscura"))
    assert not set(told_in(small).getexif())
