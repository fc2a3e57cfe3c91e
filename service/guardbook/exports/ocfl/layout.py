"""Where an object lies under a storage root.

Source: OCFL Community Extension 0003, Hashed Truncated N-tuple Trees with Object ID Encapsulating Directory.
"""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import PurePosixPath

EXTENSION = "0003-hash-and-id-n-tuple-storage-layout"
CONFIGURATION = {
    "extensionName": EXTENSION,
    "digestAlgorithm": "sha256",
    "tupleSize": 3,
    "numberOfTuples": 3,
}
LAYOUT = {
    "extension": EXTENSION,
    "description": "Three folders named after the beginning of the SHA-256 of an object's identifier, in the "
    "last of them a folder that is named after the identifier itself",
}
_LONGEST = 100
_UNSAFE = re.compile(rb"[^A-Za-z0-9_-]")


def place_of(identifier: str) -> PurePosixPath:
    """Give the path of an object within the root.

    >>> str(place_of("object-01"))
    '3c0/ff4/240/object-01'
    """
    digest = hashlib.sha256(identifier.encode()).hexdigest()
    name = _UNSAFE.sub(lambda sign: b"%%%02x" % sign[0][0], identifier.encode()).decode()
    if len(name) > _LONGEST:
        name = f"{name[:_LONGEST]}-{digest}"
    return PurePosixPath(digest[:3], digest[3:6], digest[6:9], name)


def as_json(told: object) -> bytes:
    """Write a file that describes the layout."""
    return json.dumps(told, ensure_ascii=False, indent=1).encode()
