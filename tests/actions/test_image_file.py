"""The files of pictures: given to those who may see the record, and never from outside their folder."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.actions.image_file import image_file
from guardbook.actions.load_demo import demo_records
from guardbook.catalogue.access import Viewer
from guardbook.errors import NotFound
from guardbook.records.image import Image
from tests.binding.bench import iri, made, piece
from tests.exports.laid_out import catalogue_of


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give a data folder that holds a picture, and has a secret beside the pictures."""
    (tmp_path / "images").mkdir()
    (tmp_path / "images" / "strip.png").write_bytes(b"a picture")
    (tmp_path / "secret.png").write_bytes(b"a secret")
    (tmp_path / "images" / "out.png").symlink_to(tmp_path / "secret.png")
    monkeypatch.setenv("GUARDBOOK_DATA", str(tmp_path))
    settings.current.cache_clear()
    yield tmp_path
    monkeypatch.undo()
    settings.current.cache_clear()


def picture(file: str | None, **fields: str) -> Image:
    """Make a picture by the name of its file."""
    named = {"file": file} if file else {}
    found: Image = made(Image, "Strip", depicts=[iri("fragment", "Strip")], **named, **fields)
    return found


def test_the_file_that_a_record_names_is_given_with_its_media_type(folder: Path) -> None:
    with catalogue_of(picture("images/strip.png")) as access:
        found = image_file(access, iri("image", "Strip"))
    assert found.path.read_bytes() == b"a picture"
    assert found.media_type == "image/png"
    assert found.path.parent == folder / "images"


@pytest.mark.parametrize(
    "file",
    [
        "images/../secret.png",
        "../secret.png",
        "secret.png",
        "/etc/hostname",
        "images/out.png",
        "images/not-there.png",
        "images",
        None,
    ],
)
def test_no_file_outside_the_folder_of_pictures_is_given(file: str | None, folder: Path) -> None:
    assert (folder / "secret.png").is_file()
    with (
        catalogue_of(picture(file, mediaType="image/png")) as access,
        pytest.raises(NotFound, match="no file of a picture"),
    ):
        image_file(access, iri("image", "Strip"))


def test_a_file_that_is_no_picture_is_not_given(folder: Path) -> None:
    (folder / "images" / "page.html").write_bytes(b"<script>")
    with catalogue_of(picture("images/page.html")) as access, pytest.raises(NotFound):
        image_file(access, iri("image", "Strip"))


def test_a_picture_whose_record_is_for_the_workshop_is_not_given_to_the_public(folder: Path) -> None:
    assert (folder / "images" / "strip.png").is_file()
    hidden = picture("images/strip.png", visibility="workshop")
    with catalogue_of(hidden) as access:
        assert image_file(access, hidden.id).path.is_file()
    with catalogue_of(hidden, viewer=Viewer.PUBLIC) as access, pytest.raises(NotFound):
        image_file(access, hidden.id)


def test_a_record_that_is_no_picture_has_no_file_of_one() -> None:
    with catalogue_of(piece("Strip")) as access, pytest.raises(NotFound, match="no file of a picture"):
        image_file(access, iri("fragment", "Strip"))


def test_every_photograph_of_the_demonstration_can_be_had() -> None:
    pictures = [record for record in demo_records() if isinstance(record, Image)]
    with catalogue_of(*demo_records()) as access:
        found = [image_file(access, record.id) for record in pictures]
    assert len(found) == 25
    assert all(one.path.stat().st_size > 1000 and one.media_type == "image/jpeg" for one in found)
