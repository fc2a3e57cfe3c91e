"""TIFF: every page with its own picture and the fields needed to show it, laid out anew.

What stands between the parts of a TIFF belongs to nobody knows what, so the file is written anew from its
pages, and the packed picture copied as it is. Source: TIFF 6.0 (Adobe, 1992), sections 2, 8 and 15.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.exports.pictures.jpeg import bare_jpeg
from guardbook.exports.pictures.which_way_up import order_of

_STRIPS, _STRIP_SIZES, _TILES, _TILE_SIZES = 273, 279, 324, 325
_OFFSETS = {_STRIPS: _STRIP_SIZES, _TILES: _TILE_SIZES}
_COMPRESSION, _OLD_JPEG, _JPEG = 259, 6, 7
# size and look of the picture, how it is packed, its colours and colour profile, which way up
_KEPT = frozenset(
    (
        254, 255, 256, 257, 258, 259, 262, 263, 266, 273, 274, 277, 278, 279, 280, 281, 282, 283, 284, 290,
        291, 292, 293, 296, 301, 317, 318, 319, 320, 321, 322, 323, 324, 325, 332, 334, 336, 338, 339, 340,
        341, 347, 529, 530, 531, 532, 34675,
    )
)  # fmt: skip
_BYTES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}
_LONG = 4
_WHOLE_NUMBERS = {3: "H", 4: "I"}
_MOST_PAGES = 10_000


@dataclass(frozen=True)
class _Field:
    tag: int
    kind: int
    count: int
    value: bytes


@dataclass(frozen=True)
class _Reader:
    data: bytes
    order: str

    def pages(self) -> Iterator[dict[int, _Field]]:
        """Give the fields of each page."""
        (at,) = struct.unpack_from(f"{self.order}I", self.data, 4)
        seen: set[int] = set()
        while at:
            if at in seen or len(seen) > _MOST_PAGES:
                raise ValueError("pages that go round in a ring")
            seen.add(at)
            (count,) = struct.unpack_from(f"{self.order}H", self.data, at)
            fields = [self._field(at + 2 + 12 * number) for number in range(count)]
            yield {field.tag: field for field in fields if field.tag in _KEPT}
            (at,) = struct.unpack_from(f"{self.order}I", self.data, at + 2 + 12 * count)

    def _field(self, at: int) -> _Field:
        tag, kind, count = struct.unpack_from(f"{self.order}HHI", self.data, at)
        size = _BYTES.get(kind, 0) * count
        start = at + 8 if size <= 4 else struct.unpack_from(f"{self.order}I", self.data, at + 8)[0]
        return _Field(tag, kind, count, self.piece(start, size) if tag in _KEPT else b"")

    def piece(self, start: int, size: int) -> bytes:
        """Give some bytes of the file."""
        if start + size > len(self.data):
            raise ValueError("a TIFF that is cut off")
        return self.data[start : start + size]

    def numbers(self, field: _Field) -> tuple[int, ...]:
        """Give whole numbers."""
        return struct.unpack(f"{self.order}{field.count}{_WHOLE_NUMBERS[field.kind]}", field.value)


def bare_tiff(data: bytes) -> bytes:
    """Give the pages without names, dates, Exif, XMP, IPTC or smaller copies hung below them.

    Raises ValueError where it is broken, or packed in the way that TIFF 6.0 had for JPEG and nobody kept.
    """
    reader = _Reader(data, order_of(data))
    made = bytearray(data[:4] + b"\x00\x00\x00\x00")
    link = 4
    for fields in reader.pages():
        link = _write_page(reader, fields, made, link)
    return bytes(made)


def _write_page(reader: _Reader, fields: dict[int, _Field], made: bytearray, link: int) -> int:
    """Add a page, lead to it from `link`, and give where the link to the next stands."""
    told = _with_picture(reader, fields, made)
    entries = b""
    for field in sorted(told, key=lambda one: one.tag):
        value = field.value.ljust(4, b"\x00")
        if len(value) > 4:
            value = struct.pack(f"{reader.order}I", _added(made, field.value))
        entries += struct.pack(f"{reader.order}HHI", field.tag, field.kind, field.count) + value
    page = struct.pack(f"{reader.order}H", len(told)) + entries + b"\x00\x00\x00\x00"
    at = _added(made, page)
    struct.pack_into(f"{reader.order}I", made, link, at)
    return at + len(page) - 4


def _with_picture(reader: _Reader, fields: dict[int, _Field], made: bytearray) -> list[_Field]:
    """Copy the strips or tiles of a page, and give its fields with their new places."""
    (packing,) = reader.numbers(fields[_COMPRESSION]) if _COMPRESSION in fields else (1,)
    if packing == _OLD_JPEG:
        raise ValueError("a JPEG packed in the old way")
    told = dict(fields)
    for offsets, sizes in _OFFSETS.items():
        if offsets not in fields:
            continue
        starts, lengths = reader.numbers(fields[offsets]), reader.numbers(fields[sizes])
        pieces = [reader.piece(start, size) for start, size in zip(starts, lengths, strict=True)]
        if packing == _JPEG:
            pieces = [bare_jpeg(piece) for piece in pieces]
        told[offsets] = _longs(reader, offsets, [_added(made, piece) for piece in pieces])
        told[sizes] = _longs(reader, sizes, [len(piece) for piece in pieces])
    return list(told.values())


def _longs(reader: _Reader, tag: int, numbers: list[int]) -> _Field:
    value = struct.pack(f"{reader.order}{len(numbers)}I", *numbers)
    return _Field(tag, _LONG, len(numbers), value)


def _added(made: bytearray, piece: bytes) -> int:
    """Add bytes at an even place, as TIFF wants it, and give that place."""
    made.extend(b"\x00" * (len(made) % 2))
    at = len(made)
    made.extend(piece)
    return at
