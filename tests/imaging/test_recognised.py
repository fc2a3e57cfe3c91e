"""Pictures are known by their content, whatever their files are called."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from guardbook.imaging.recognised import recognised


def picture(form: str, size: tuple[int, int] = (60, 30)) -> io.BytesIO:
    file = io.BytesIO()
    Image.new("RGB", size, "tan").save(file, form)
    return file


@pytest.mark.parametrize(
    ("form", "media_type", "ending"),
    [
        ("JPEG", "image/jpeg", ".jpg"),
        ("PNG", "image/png", ".png"),
        ("TIFF", "image/tiff", ".tif"),
        ("WEBP", "image/webp", ".webp"),
    ],
)
def test_what_cameras_and_scanners_give_is_recognised(form: str, media_type: str, ending: str) -> None:
    found = recognised(picture(form))
    assert found is not None
    assert (found.media_type, found.ending, found.width_px, found.height_px) == (media_type, ending, 60, 30)


def test_a_photograph_can_be_read_from_its_beginning_afterwards() -> None:
    file = picture("PNG")
    recognised(file)
    assert file.tell() == 0


@pytest.mark.parametrize(
    "content", [b"", b"a text", b"\xff\xd8\xff\xe0 broken", b"<svg xmlns='x'/>", b"GIF89a"]
)
def test_what_is_no_photograph_is_not_taken_for_one(content: bytes) -> None:
    assert recognised(io.BytesIO(content)) is None


def test_a_very_large_photograph_is_measured_without_being_taken_apart(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    file = picture("PNG", (80, 40))
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 2000)
    found = recognised(file)
    assert found is not None
    assert (found.width_px, found.height_px) == (80, 40)
