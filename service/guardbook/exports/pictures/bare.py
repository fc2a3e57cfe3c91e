"""A picture's file with nothing in it but the picture.

Cameras and programs write names, places, serial numbers, dates and smaller copies of a picture into its
file. What the public is given holds none of that; the picture itself is not touched, not even packed anew.
Kept is only what is known to be needed to show it rightly (which way up, its colours, its resolution), so
that a kind of note nobody thought of is left out too.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from pathlib import Path

from guardbook.exports.pictures.jpeg import bare_jpeg
from guardbook.exports.pictures.png import bare_png
from guardbook.exports.pictures.tiff import bare_tiff
from guardbook.exports.pictures.webp import bare_webp

_LONGEST_SIGNATURE = 12
# what reading a file that is damaged within ends with
_BROKEN = (ValueError, IndexError, KeyError, struct.error)


def is_webp(data: bytes) -> bool:
    """Tell a WebP picture by its first bytes (RFC 9649, section 2.4)."""
    return data[:4] == b"RIFF" and data[8:12] == b"WEBP"


# by the first bytes, whatever the name of the file says
_KINDS: tuple[tuple[Callable[[bytes], bool], Callable[[bytes], bytes]], ...] = (
    (lambda data: data.startswith(b"\xff\xd8\xff"), bare_jpeg),
    (lambda data: data.startswith(b"\x89PNG\r\n\x1a\n"), bare_png),
    (lambda data: data.startswith((b"II*\x00", b"MM\x00*")), bare_tiff),
    (is_webp, bare_webp),
)


def can_be_bared(path: Path) -> bool:
    """Say whether a file looks like one of the kinds that can be given to the public."""
    with path.open("rb") as file:
        first = file.read(_LONGEST_SIGNATURE)
    return any(fits(first) for fits, _ in _KINDS)


def bare(data: bytes) -> bytes | None:
    """Give the file without anything beside the picture; None for another kind of file, or a broken one.

    JPEG, PNG, TIFF and WebP are known. Baring a file twice changes nothing.
    """
    for fits, made in _KINDS:
        if fits(data):
            try:
                return made(data)
            except _BROKEN:
                return None
    return None
