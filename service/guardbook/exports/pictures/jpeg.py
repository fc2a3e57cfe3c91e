"""JPEG: the segments that the picture needs, in their order, and nothing after its end.

Sources: ITU-T T.81 (JPEG), annex B; JFIF 1.02; Exif 2.3, section 4.5.4; ICC.1:2010, annex B.4.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from typing import NamedTuple

from guardbook.exports.pictures.which_way_up import exif_that_says_only, orientation_in

_EXIF = b"Exif\x00\x00"
_START, _END, _SCAN = 0xD8, 0xD9, 0xDA
_APP0, _APP1, _APP2, _APP14 = 0xE0, 0xE1, 0xE2, 0xEE
_APPLICATIONS = range(0xE0, 0xF0)
_COMMENT = 0xFE
# frame, Huffman and arithmetic tables, quantization, restart interval, number of lines, expansion
_OF_THE_PICTURE = {*range(0xC0, 0xD0), *range(0xDA, 0xE0)} - {0xC8}
# within the packed picture FF stands only before 00 or a restart marker; more FF may fill up
_NEXT_MARKER = re.compile(rb"\xff+(?=[^\x00\xff\xd0-\xd7])", re.DOTALL)


class _Segment(NamedTuple):
    """A marker, what follows its length, and of a scan the packed picture after it."""

    marker: int
    body: bytes
    packed: bytes = b""

    def written(self) -> bytes:
        """Write it, its length before it."""
        return struct.pack(">BBH", 0xFF, self.marker, len(self.body) + 2) + self.body + self.packed


def bare_jpeg(data: bytes) -> bytes:
    """Give the file without Exif, XMP, IPTC, comments, thumbnails or anything after its end.

    The colour profile stays, and so does which way up the picture is. Raises ValueError where it is broken.
    """
    segments = list(_segments(data))
    if not any(one.marker == _SCAN for one in segments):
        raise ValueError("a JPEG without a picture")
    kept = [one for segment in segments if (one := _kept(segment))]
    at = 1 if kept and kept[0].marker == _APP0 else 0
    for one in segments:
        if one.marker == _APP1 and one.body.startswith(_EXIF):
            if exif := exif_that_says_only(orientation_in(one.body[len(_EXIF) :])):
                kept.insert(at, _Segment(_APP1, _EXIF + exif))
            break
    written = (one.written() for one in kept)
    return b"".join([bytes((0xFF, _START)), *written, bytes((0xFF, _END))])


def _segments(data: bytes) -> Iterator[_Segment]:
    at = 2
    while at < len(data):
        found = _NEXT_MARKER.match(data, at)
        if not found:
            raise ValueError(f"no marker at byte {at}")
        at = found.end()
        marker = data[at]
        if marker == _END:
            return
        (length,) = struct.unpack(">H", data[at + 1 : at + 3].rjust(2, b"\x00"))
        end = at + 1 + length
        if length < 2 or end > len(data):
            raise ValueError(f"a segment at byte {at} that is cut off")
        body, at = data[at + 3 : end], end
        if marker == _SCAN:
            following = _NEXT_MARKER.search(data, at)
            end = following.start() if following else len(data)
            yield _Segment(marker, body, data[at:end])
            at = end
        else:
            yield _Segment(marker, body)


def _kept(segment: _Segment) -> _Segment | None:
    """Give what is kept of a segment."""
    marker, body = segment.marker, segment.body
    if marker == _APP0 and body.startswith(b"JFIF\x00"):
        # version, units and density, and no thumbnail
        return _Segment(marker, body[:12] + b"\x00\x00") if len(body) >= 14 else None
    if marker == _APP2 and body.startswith(b"ICC_PROFILE\x00"):
        return segment
    if marker == _APP14 and body.startswith(b"Adobe"):
        return _Segment(marker, body[:12])
    if marker in _APPLICATIONS or marker == _COMMENT:
        return None
    if marker not in _OF_THE_PICTURE:
        raise ValueError(f"a marker {marker:02X} that JPEG does not have here")
    return segment
