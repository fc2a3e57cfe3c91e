"""WebP: the chunks that the picture needs, in their order.

Source: RFC 9649, section 2.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

from guardbook.exports.pictures.which_way_up import exif_that_says_only, orientation_in

_HEADER_BYTES = 12
_KEPT = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"))
_SAYS_EXIF, _SAYS_XMP = 0x08, 0x04


def bare_webp(data: bytes) -> bytes:
    """Give the file without Exif, XMP or chunks that nobody knows. Raises ValueError where it is broken."""
    kept: list[bytes] = []
    exif = b""
    for name, body in _chunks(data):
        if name == b"EXIF":
            exif = exif_that_says_only(orientation_in(body.removeprefix(b"Exif\x00\x00")))
        elif name in _KEPT:
            kept.append(_chunk(name, body))
    if kept and kept[0].startswith(b"VP8X"):
        flags = kept[0][8] & ~(_SAYS_EXIF | _SAYS_XMP) | (_SAYS_EXIF if exif else 0)
        kept[0] = kept[0][:8] + bytes((flags,)) + kept[0][9:]
        kept += [_chunk(b"EXIF", exif)] if exif else []
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    (size,) = struct.unpack_from("<I", data, 4)
    at, end = _HEADER_BYTES, 8 + size
    if end > len(data):
        raise ValueError("a WebP that is cut off")
    while at + 8 <= end:
        name, length = struct.unpack_from("<4sI", data, at)
        if at + 8 + length > end:
            raise ValueError(f"a chunk at byte {at} that is cut off")
        yield name, data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def _chunk(name: bytes, body: bytes) -> bytes:
    return name + struct.pack("<I", len(body)) + body + b"\x00" * (len(body) % 2)
