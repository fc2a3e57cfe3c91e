"""Find the file of a picture among those that are kept here, for those who may see its record.

The workshop gets the file as it is kept. The public gets the picture without what its camera wrote beside it,
and the checksum of that; the kept file is never changed.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import BinaryIO

from guardbook import settings
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import NotFound
from guardbook.exports.iiif.addresses import type_of
from guardbook.exports.pictures.bare import bare, can_be_bared
from guardbook.imaging.smaller import smaller
from guardbook.records.image import Image
from guardbook.wording import _, said_later

FOLDER = "images"
_PIECE_BYTES = 1 << 20
_CANNOT_BE_BARED = said_later(
    "The file of {picture} is not of a kind whose notes by the camera can be taken out "
    "(JPEG, PNG, TIFF, WebP)."
)


@dataclass(frozen=True)
class ImageFile:
    """A picture's file as one viewer is given it; `path` is that of the file that is kept.

    `is_bare` where the viewer gets no more than the picture itself.
    """

    image: Image
    path: Path
    is_bare: bool

    @property
    def media_type(self) -> str:
        """Give its media type."""
        return str(type_of(self.image))

    def opened(self) -> BinaryIO:
        """Open what the viewer is given. Raises NotFound where nothing of the file can be given."""
        if not self.is_bare:
            return self.path.open("rb")
        found = bare(self.path.read_bytes())
        if found is None:
            raise NotFound(message=_(_CANNOT_BE_BARED).format(picture=self.image.short))
        return io.BytesIO(found)

    def pieces(self) -> Iterator[bytes]:
        """Give what the viewer is given, piece by piece. Raises as `opened`."""
        with self.opened() as file:
            while piece := file.read(_PIECE_BYTES):
                yield piece

    def smaller(self, width_px: int) -> bytes | None:
        """Give it as JPEG, at most so many pixels wide; None for a picture that cannot be made smaller.

        It holds nothing beside the picture, whoever asks. Raises ValueError for a width that is not kept.
        """
        return smaller(self.path, width_px)

    @cached_property
    def sha256(self) -> str:
        """Give the checksum of what the viewer is given. Raises as `opened`."""
        made = hashlib.sha256()
        for piece in self.pieces():
            made.update(piece)
        return made.hexdigest()

    @property
    def described(self) -> Image:
        """Give the record, its checksum that of what the viewer is given. Raises as `opened`.

        A checksum that never was that of the kept file stays: nothing is made right here.
        """
        given = self.sha256 if self.is_bare else None
        if given and self.image.sha256 == self._kept_sha256:
            return self.image.model_copy(update={"sha256": given})
        return self.image

    @cached_property
    def _kept_sha256(self) -> str:
        with self.path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()

    @property
    def is_the_one_described(self) -> bool:
        """Say whether the kept file is the one that the record's checksum is of, if it has one."""
        return self.image.sha256 in {None, self._kept_sha256}


def image_file(access: Access, name: str) -> ImageFile:
    """Give the file of a picture, by an identifier in any spelling or a workshop number.

    Raises Gone, and NotFound, also for a record that is no picture or whose file is not kept here.
    """
    record = access.record(access.resolve(name)).record
    found = file_for(access.viewer, record) if isinstance(record, Image) else None
    if found is None or not found.media_type.startswith("image/"):
        raise NotFound(
            message=_(
                "There is no file of a picture {picture}. It would lie in the folder {folder}/ "
                "of the data, and be named in the record: {folder}/strip.jpg."
            ).format(picture=record.short, folder=FOLDER)
        )
    return found


def file_for(viewer: Viewer, image: Image, data: Path | None = None) -> ImageFile | None:
    """Give the file of a picture as a viewer is given it; None where there is none, or none for such."""
    path = kept_file(image, data)
    public = viewer is Viewer.PUBLIC
    if path is None or (public and not can_be_bared(path)):
        return None
    return ImageFile(image, path, is_bare=public)


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
