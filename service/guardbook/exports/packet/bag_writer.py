"""Writes a bag into a ZIP archive, file by file, with the checksum of each.

Source: BagIt 1.0 (RFC 8493), sections 2.1 and 2.2.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import IO, BinaryIO, cast

from guardbook.intake.bag import DECLARATION, DECLARED, INFO, MANIFEST, PAYLOAD, TAG_MANIFEST

TOP = "guardbook-packet/"
# the same packet of the same records is the same bytes, whenever it is made
_NO_TIME = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True)
class Written:
    """A file of the payload: its SHA-256 and its size in bytes."""

    sha256: str
    size: int


class _Hashing(io.RawIOBase):
    """Passes on what is written to it, and counts and hashes it."""

    def __init__(self, inner: IO[bytes]) -> None:
        self._inner = inner
        self._made = hashlib.sha256()
        self._size = 0

    def writable(self) -> bool:
        return True

    def write(self, data: object) -> int:
        piece = bytes(data)  # type: ignore[call-overload]  # any buffer, as the base class has it
        self._inner.write(piece)
        self._made.update(piece)
        self._size += len(piece)
        return len(piece)

    def written(self) -> Written:
        return Written(self._made.hexdigest(), self._size)


@dataclass
class BagWriter:
    """Takes the files of the payload one after the other; `files` tells of those that are written."""

    archive: zipfile.ZipFile
    files: dict[str, Written] = field(default_factory=dict)

    @contextmanager
    def file(self, path: str) -> Iterator[BinaryIO]:
        """Give a file to write; `path` is within `data/`."""
        with self._opened(PAYLOAD + path) as hashing:
            yield cast(BinaryIO, hashing)
        self.files[path] = hashing.written()

    def finish(self, info: Mapping[str, str]) -> None:
        """Write what makes a bag of it: its declaration, what it is, and the checksums."""
        size = sum(file.size for file in self.files.values())
        told = {**info, "Payload-Oxum": f"{size}.{len(self.files)}"}
        tags = {
            DECLARATION: DECLARED,
            INFO: "".join(f"{label}: {' '.join(value.split())}\n" for label, value in told.items()),
            MANIFEST: _lines({PAYLOAD + path: file for path, file in self.files.items()}),
        }
        sums = {path: self._tag(path, text) for path, text in tags.items()}
        self._tag(TAG_MANIFEST, _lines(sums))

    def _tag(self, path: str, text: str) -> Written:
        with self._opened(path) as hashing:
            hashing.write(text.encode())
        return hashing.written()

    @contextmanager
    def _opened(self, path: str) -> Iterator[_Hashing]:
        entry = zipfile.ZipInfo(TOP + path, _NO_TIME)
        entry.compress_type = zipfile.ZIP_DEFLATED
        entry.external_attr = 0o100644 << 16
        with self.archive.open(entry, "w", force_zip64=True) as file:
            yield _Hashing(file)


def _lines(files: Mapping[str, Written]) -> str:
    return "".join(f"{file.sha256}  {path}\n" for path, file in sorted(files.items()))
