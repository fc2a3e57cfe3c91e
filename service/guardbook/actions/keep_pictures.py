"""Keep the files of pictures that came with a packet or an archive, all of them or none."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Protocol

from guardbook.actions.image_file import FOLDER
from guardbook.errors import Fault, StorageFailed
from guardbook.records.image import Image
from guardbook.wording import _

Pictures = Sequence[tuple[Image, str]]


class Files(Protocol):
    """Where the files of pictures come from."""

    def pieces(self, path: str, /) -> Iterator[bytes]:
        """Give a file piece by piece."""


def faults_of_pictures(files: Files, pictures: Pictures, data: Path) -> Iterator[Fault]:
    """Give the pictures whose place is taken by another file, or leads out of the folder of pictures."""
    for image, path in pictures:
        place = _place(image, data)
        if not place.is_relative_to((data / FOLDER).resolve()):
            expected = _("a file in {folder}/").format(folder=FOLDER)
            yield Fault(where=f"{image.short} file", found=repr(image.file), expected=expected)
        elif place.exists() and not _is_already(files, path, place):
            expected = _("the same file, or none, in this place")
            found = _("another {file}").format(file=image.file)
            yield Fault(where=f"{image.short} file", found=found, expected=expected)


@contextmanager
def kept_together(files: Files, pictures: Pictures, data: Path) -> Iterator[None]:
    """Write the files aside, and put them in their places once what is done meanwhile has gone well.

    Raises StorageFailed where the disk does not take them.
    """
    aside: list[tuple[Path, Path]] = []
    try:
        try:
            for image, path in pictures:
                if not (place := _place(image, data)).exists():
                    aside.append((_written_aside(files, path, place), place))
        except OSError as error:
            message = _("The pictures could not be written: {reason}.").format(reason=error.strerror)
            raise StorageFailed(message=message) from error
        yield
        for half, place in aside:
            half.replace(place)
    finally:
        for half, _there in aside:
            with suppress(FileNotFoundError):
                half.unlink()


def _place(image: Image, data: Path) -> Path:
    return (data / str(image.file)).resolve()


def _written_aside(files: Files, path: str, place: Path) -> Path:
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=".coming-")
    half = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines(files.pieces(path))
            file.flush()
            os.fsync(file.fileno())
    except BaseException:
        half.unlink()
        raise
    half.chmod(0o644)
    return half


def _is_already(files: Files, path: str, place: Path) -> bool:
    with suppress(OSError), place.open("rb") as file:
        return all(file.read(len(piece)) == piece for piece in files.pieces(path)) and not file.read(1)
    return False
