"""A ZIP archive that is looked at before anything of it is read, and never unpacked onto the disk.

Refused are names that lead out of the archive or that a system takes for something else, links, entries that
lie over one another or are there twice, and archives that unpack to far more than they are.
"""

from __future__ import annotations

import re
import stat
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import BinaryIO

from guardbook.errors import Fault, UnreadableFile

MOST_ENTRIES = 200_000
# what text that repeats itself may shrink to, and what is small enough not to matter
MOST_TIMES_LARGER = 250
NEVER_TOO_LARGE_BYTES = 100_000_000
# the longest name, so that neither a file system nor a person is lost in it
_LONGEST_NAME = 1000
_STRANGE = re.compile(r"[\x00-\x1f\x7f\\:]")
# how hard it was packed, sizes told after the content, names in UTF-8
_PLAIN_FLAGS = 0x6 | 0x8 | 0x800
_METHODS = {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}


def opened_zip(file: BinaryIO, name: str) -> tuple[zipfile.ZipFile, Mapping[str, zipfile.ZipInfo]]:
    """Give an archive and its files by path. Raises UnreadableFile with every fault."""
    try:
        archive = zipfile.ZipFile(file)
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
        raise unreadable(name, [_no_archive(name, error)]) from error
    entries = [entry for entry in archive.infolist() if not entry.is_dir()]
    if faults := [*_too_large(entries, file, name), *_faults(entries, name)]:
        archive.close()
        raise unreadable(name, faults)
    return archive, MappingProxyType({entry.filename: entry for entry in entries})


def unreadable(name: str, faults: list[Fault]) -> UnreadableFile:
    """Say that a file is not taken, and everything that is wrong with it."""
    return UnreadableFile(message=f"{name} was refused; nothing of it was kept.", faults=tuple(faults))


def _no_archive(name: str, error: Exception) -> Fault:
    mend = "It may have been cut off on its way: fetch it again."
    return Fault(where=name, found=str(error), expected="a ZIP archive that is whole", mend=mend)


def _too_large(entries: list[zipfile.ZipInfo], file: BinaryIO, name: str) -> Iterator[Fault]:
    if len(entries) > MOST_ENTRIES:
        yield Fault(where=name, found=f"{len(entries)} files", expected=f"at most {MOST_ENTRIES}")
    unpacked = sum(entry.file_size for entry in entries)
    packed = file.seek(0, 2)
    if unpacked > max(NEVER_TOO_LARGE_BYTES, MOST_TIMES_LARGER * packed):
        found = f"{unpacked} bytes in an archive of {packed}"
        yield Fault(where=name, found=found, expected="an archive that does not unpack to a flood")


def _faults(entries: list[zipfile.ZipInfo], name: str) -> Iterator[Fault]:
    for entry in entries:
        if wrong := _wrong_with(entry):
            where = f"{name}, {entry.filename[:_LONGEST_NAME]!r}"
            yield Fault(where=where, found=wrong, expected="a plain file in a folder of the archive")
    # on many systems two names that differ in their capitals are one
    spelled = Counter(entry.filename.casefold() for entry in entries)
    for spelling, times in spelled.items():
        if times > 1:
            yield Fault(where=name, found=f"{spelling!r} {times} times", expected="every file once")
    ordered = sorted(entries, key=lambda entry: entry.header_offset)
    for one, following in pairwise(ordered):
        if one.header_offset + one.compress_size > following.header_offset:
            found = f"{one.filename!r} and {following.filename!r} share bytes"
            yield Fault(where=name, found=found, expected="files that lie side by side")


def _wrong_with(entry: zipfile.ZipInfo) -> str:
    path = PurePosixPath(entry.filename)
    mode = entry.external_attr >> 16
    kind = stat.S_IFMT(mode)
    checks = (
        (path.is_absolute() or ".." in path.parts, "a name that leads out of the archive"),
        (str(path) != entry.filename, "a name written in a roundabout way"),
        (_STRANGE.search(entry.orig_filename), "a name with signs that not every system takes"),
        (len(entry.filename) > _LONGEST_NAME, "a name that is too long"),
        (kind not in {0, stat.S_IFREG}, "a link or a device"),
        (entry.flag_bits & ~_PLAIN_FLAGS, "a file behind a password, or packed in an unusual way"),
        (entry.compress_type not in _METHODS, "a way of packing that is not used here"),
    )
    return next((words for wrong, words in checks if wrong), "")
