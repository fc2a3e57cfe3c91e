"""Packets as bags, read and checked: every file is there, none is strange, each has its checksum.

Source: BagIt 1.0 (RFC 8493), sections 2 and 3, in a ZIP archive with one top folder.
"""

from __future__ import annotations

import hashlib
import re
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import BinaryIO

from guardbook.errors import Fault
from guardbook.intake.safe_zip import opened_zip, unreadable

DECLARATION = "bagit.txt"
DECLARED = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
INFO = "bag-info.txt"
MANIFEST = "manifest-sha256.txt"
TAG_MANIFEST = "tagmanifest-sha256.txt"
PAYLOAD = "data/"
PIECE_BYTES = 1 << 20
# what is read into the memory as a whole
LARGEST_TAG_FILE_BYTES = 64_000_000
# what reading an archive that is damaged within ends with
BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError)
_LINE = re.compile(r"(?P<hash>[0-9a-fA-F]{64})[ \t]+\*?(?P<path>\S.*)")
_AGAIN = "The packet was damaged or changed: ask for it again."


@dataclass(frozen=True)
class Bag:
    """A packet that has been checked: its files by their paths within `data/`."""

    archive: zipfile.ZipFile
    files: Mapping[str, zipfile.ZipInfo]
    checksums: Mapping[str, str]

    def read(self, path: str) -> bytes:
        """Give a file as a whole. Raises KeyError where there is none."""
        return self.archive.read(self.files[path])

    def pieces(self, path: str) -> Iterator[bytes]:
        """Give a file piece by piece."""
        with self.archive.open(self.files[path]) as file:
            while piece := file.read(PIECE_BYTES):
                yield piece


def opened_bag(file: BinaryIO, name: str) -> Bag:
    """Open a packet and check it whole. Raises UnreadableFile with every fault that was found."""
    archive, entries = opened_zip(file, name)
    try:
        return _checked(archive, entries, name)
    except BaseException:
        archive.close()
        raise


def _checked(archive: zipfile.ZipFile, entries: Mapping[str, zipfile.ZipInfo], name: str) -> Bag:
    tops = {path.partition("/")[0] for path in entries}
    top = next(iter(tops), "") + "/"
    inside = {path.removeprefix(top): entry for path, entry in entries.items()}
    if len(tops) != 1 or DECLARATION not in inside:
        expected = f"one folder with {DECLARATION} in it, as a BagIt bag has"
        found = ", ".join(sorted(tops)[:3]) or "nothing"
        raise unreadable(name, [Fault(where=name, found=found, expected=expected)])
    checker = _Checker(archive, inside, name)
    if faults := list(checker.faults()):
        raise unreadable(name, faults)
    sums = checker.manifest(MANIFEST)
    return Bag(
        archive,
        {path.removeprefix(PAYLOAD): inside[path] for path in sums},
        {path.removeprefix(PAYLOAD): value for path, value in sums.items()},
    )


@dataclass(frozen=True)
class _Checker:
    archive: zipfile.ZipFile
    inside: Mapping[str, zipfile.ZipInfo]
    name: str

    def faults(self) -> Iterator[Fault]:
        """Give what is wrong: first with the tag files, and with the payload only once those are right."""
        about = list(self._about_tags())
        yield from about
        if not about:
            yield from self._about_payload()

    def _about_tags(self) -> Iterator[Fault]:
        declared = self._text(DECLARATION)
        if [line.strip() for line in declared.splitlines()] != DECLARED.splitlines():
            yield self._fault(DECLARATION, repr(declared[:80]), "a bag of version 1.0 in UTF-8")
        if "fetch.txt" in self.inside:
            yield self._fault(
                "fetch.txt", "files to be fetched elsewhere", "a packet that holds all its files"
            )
        for path in (MANIFEST, TAG_MANIFEST):
            if path not in self.inside:
                yield self._fault(path, "nothing", "the list of checksums")
            else:
                yield from self._unlike(path)

    def _unlike(self, manifest: str) -> Iterator[Fault]:
        """Give the lines of a manifest that cannot be read, and the tag files that are not as listed."""
        for number, line in enumerate(self._text(manifest).splitlines(), 1):
            if not _LINE.fullmatch(line):
                yield self._fault(f"{manifest}, line {number}", repr(line[:80]), "a checksum and a path")
        if manifest == TAG_MANIFEST:
            listed = self.manifest(TAG_MANIFEST)
            for path in (DECLARATION, INFO, MANIFEST):
                if path not in listed and path in self.inside:
                    yield self._fault(path, "no checksum", f"a line in {TAG_MANIFEST}")
            yield from self._differing(listed)

    def _about_payload(self) -> Iterator[Fault]:
        listed = self.manifest(MANIFEST)
        present = {path for path in self.inside if path.startswith(PAYLOAD)}
        for path in sorted(present - listed.keys()):
            yield self._fault(path, "a file that is not listed", f"only what {MANIFEST} lists")
        for path in sorted(path for path in listed if not path.startswith(PAYLOAD)):
            yield self._fault(MANIFEST, repr(path), f"only files in {PAYLOAD}")
        yield from self._differing(listed)
        yield from self._count(present)

    def _differing(self, listed: Mapping[str, str]) -> Iterator[Fault]:
        for path, wanted in sorted(listed.items()):
            if path not in self.inside:
                yield self._fault(path, "nothing", "the file that is listed")
            elif (found := self._checksum(path)) != wanted:
                yield self._fault(path, found, f"SHA-256 {wanted}")

    def _checksum(self, path: str) -> str:
        made = hashlib.sha256()
        try:
            with self.archive.open(self.inside[path]) as file:
                while piece := file.read(PIECE_BYTES):
                    made.update(piece)
        except BROKEN as error:
            return f"a file that cannot be unpacked ({error})"
        return made.hexdigest()

    def _count(self, present: set[str]) -> Iterator[Fault]:
        stated = re.search(r"^Payload-Oxum:\s*(\S+)\s*$", self._text(INFO), re.MULTILINE)
        size = sum(self.inside[path].file_size for path in present)
        if stated and stated[1] != f"{size}.{len(present)}":
            yield self._fault(INFO, f"{size} bytes in {len(present)} files", f"Payload-Oxum {stated[1]}")

    def manifest(self, path: str) -> dict[str, str]:
        """Give the checksums by path; RFC 8493 writes line ends and % in paths as %0A, %0D and %25."""
        lines = filter(None, map(_LINE.fullmatch, self._text(path).splitlines()))
        return {_plain(line["path"]): line["hash"].lower() for line in lines}

    def _text(self, path: str) -> str:
        if path not in self.inside or self.inside[path].file_size > LARGEST_TAG_FILE_BYTES:
            return ""
        try:
            return self.archive.read(self.inside[path]).decode("utf-8", errors="replace")
        except BROKEN:
            return ""

    def _fault(self, path: str, found: str, expected: str) -> Fault:
        return Fault(where=f"{self.name}, {path}", found=found, expected=expected, mend=_AGAIN)


def _plain(path: str) -> str:
    for written, sign in (("%0A", "\n"), ("%0D", "\r"), ("%25", "%")):
        path = path.replace(written, sign).replace(written.lower(), sign)
    return path.removeprefix("./")
