"""Which way up a picture is to be shown: the one thing that Exif says about the picture itself.

Source: Exif 2.3, section 4.6.4 (Orientation): 1 is as it lies in the file, 2 to 8 turned or mirrored.
"""

from __future__ import annotations

import struct

_ORIENTATION, _SHORT = 274, 3
_AS_IT_LIES = 1


def order_of(tiff: bytes) -> str:
    """Give the order of bytes, as `struct` has it. Raises ValueError where it is no TIFF."""
    order = {b"II*\x00": "<", b"MM\x00*": ">"}.get(tiff[:4])
    if order is None:
        raise ValueError("no TIFF")
    return order


def orientation_in(tiff: bytes) -> int:
    """Give the orientation that the TIFF structure of an Exif block states; 1 where it states none."""
    try:
        order = order_of(tiff)
        (at,) = struct.unpack_from(f"{order}I", tiff, 4)
        (count,) = struct.unpack_from(f"{order}H", tiff, at)
        for entry in range(at + 2, at + 2 + 12 * count, 12):
            tag, kind = struct.unpack_from(f"{order}HH", tiff, entry)
            if (tag, kind) == (_ORIENTATION, _SHORT):
                (value,) = struct.unpack_from(f"{order}H", tiff, entry + 8)
                return int(value) if 1 <= value <= 8 else _AS_IT_LIES
    except (ValueError, struct.error):
        pass
    return _AS_IT_LIES


def exif_that_says_only(orientation: int) -> bytes:
    """Give a TIFF structure with nothing in it but the orientation; nothing for a picture as it lies."""
    if orientation == _AS_IT_LIES:
        return b""
    return struct.pack("<2sHIHHHIHHI", b"II", 42, 8, 1, _ORIENTATION, _SHORT, 1, orientation, 0, 0)
