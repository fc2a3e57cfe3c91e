"""Pictures made smaller for lists and pages."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from guardbook.imaging.smaller import WIDTHS_PX, smaller


def kept(path: Path, size: tuple[int, int], mode: str = "RGB", **saved: Any) -> Path:
    Image.new(mode, size).save(path, **saved)
    return path


def opened(small: bytes | None) -> Image.Image:
    assert small is not None
    return Image.open(io.BytesIO(small))


@pytest.mark.parametrize("width", WIDTHS_PX)
def test_a_picture_becomes_as_wide_as_asked_and_keeps_its_proportions(tmp_path: Path, width: int) -> None:
    found = opened(smaller(kept(tmp_path / "strip.png", (2600, 650)), width))
    assert (found.format, found.size) == ("JPEG", (width, width // 4))


def test_a_picture_is_never_made_larger(tmp_path: Path) -> None:
    assert opened(smaller(kept(tmp_path / "thread.png", (40, 30)), 320)).size == (40, 30)


def test_a_picture_taken_with_the_camera_turned_stands_upright(tmp_path: Path) -> None:
    turned = Image.Exif()
    turned[0x0112] = 6
    path = kept(tmp_path / "guard.jpg", (400, 200), exif=turned)
    assert opened(smaller(path, 160)).size == (160, 320)


def test_what_can_be_seen_through_is_put_on_white(tmp_path: Path) -> None:
    path = kept(tmp_path / "tracing.png", (8, 8), "RGBA")
    assert opened(smaller(path, 160)).getpixel((4, 4)) == (255, 255, 255)


def test_a_picture_put_in_the_place_of_another_is_the_one_that_is_shown(tmp_path: Path) -> None:
    path = kept(tmp_path / "label.png", (30, 30))
    smaller(path, 160)
    kept(path, (20, 30))
    assert opened(smaller(path, 160)).size == (20, 30)


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\xff\xd8\xff\xe0 broken"])
def test_what_is_no_picture_is_not_made_smaller(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "strip.jpg"
    path.write_bytes(content)
    assert smaller(path, 320) is None


def test_a_picture_with_more_pixels_than_is_safe_is_left_as_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 1000)
    assert smaller(kept(tmp_path / "map.png", (50, 50)), 320) is None


def test_only_widths_that_are_kept_ready_are_made(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="Expected one of"):
        smaller(kept(tmp_path / "strip.png", (10, 10)), 5)
