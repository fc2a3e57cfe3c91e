"""Find the file of a picture among those that are kept here, for those who may see its record."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound
from guardbook.exports.iiif.addresses import type_of
from guardbook.records.image import Image

FOLDER = "images"


@dataclass(frozen=True)
class ImageFile:
    """A picture's file, and its media type."""

    path: Path
    media_type: str


def image_file(access: Access, name: str) -> ImageFile:
    """Give the file of a picture, by an identifier in any spelling or a workshop number.

    Raises Gone, and NotFound, also for a record that is no picture or whose file is not kept here.
    """
    record = access.record(access.resolve(name)).record
    path = kept_file(record) if isinstance(record, Image) else None
    media_type = type_of(record) if isinstance(record, Image) else None
    if path is None or not (media_type or "").startswith("image/"):
        raise NotFound(
            message=f"There is no file of a picture {record.short}. It would lie in the folder {FOLDER}/ "
            f"of the data, and be named in the record: {FOLDER}/strip.jpg."
        )
    return ImageFile(path, str(media_type))


def kept_file(image: Image, data: Path | None = None) -> Path | None:
    """Give where the file that a record names lies, in the images of the data or of the demonstration.

    `data` is the folder of the catalogue (None: the usual one). None where there is no such file, or where
    its name leads out of that folder.
    """
    if not image.file or "\0" in image.file:
        return None
    known = settings.current()
    for top in (data or known.data, known.demo):
        folder = (top / FOLDER).resolve()
        found = (top / image.file).resolve()
        if found.is_relative_to(folder) and found.is_file():
            return found
    return None
