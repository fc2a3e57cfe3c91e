"""PNG: the chunks that the picture needs, in their order.

Source: PNG, third edition (W3C, 2025), sections 5.3 (chunk layout), 11.2 and 11.3.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator

from guardbook.exports.pictures.which_way_up import exif_that_says_only, orientation_in

_SIGNATURE_BYTES = 8
_KEPT = frozenset(
    (
        b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP",
        b"mDCV", b"cLLI", b"bKGD", b"hIST", b"pHYs", b"acTL", b"fcTL", b"fdAT",
    )
)  # fmt: skip


def bare_png(data: bytes) -> bytes:
    """Give the file without texts, Exif, times or anything after its end. Raises ValueError where broken."""
    kept = [data[:_SIGNATURE_BYTES]]
    for name, body in _chunks(data):
        if name in _KEPT:
            kept.append(_chunk(name, body))
        elif name == b"eXIf" and (exif := exif_that_says_only(orientation_in(body))):
            kept.append(_chunk(name, exif))
    return b"".join(kept)


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at, name = _SIGNATURE_BYTES, b""
    while name != b"IEND":
        if at + 12 > len(data):
            raise ValueError("a PNG without an end")
        length, name = struct.unpack_from(">I4s", data, at)
        end = at + 8 + length
        if end + 4 > len(data):
            raise ValueError(f"a chunk at byte {at} that is cut off")
        yield name, data[at + 8 : end]
        at = end + 4


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I4s", len(body), name) + body + struct.pack(">I", zlib.crc32(name + body))
