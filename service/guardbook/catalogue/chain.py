"""The chain of hashes that shows whether history was touched.

Each entry of the ledger holds the hash of the entry before it; its own hash covers that, its record's hash
and everything else it says. Changing, removing or inserting an entry breaks every later link.
"""

from __future__ import annotations

import hashlib
import json

START = "0" * 64


def body_hash(body: str) -> str:
    """Give the SHA-256, in hexadecimal, of a canonical form in UTF-8."""
    return hashlib.sha256(body.encode()).hexdigest()


def link(
    *,
    sequence: int,
    iri: str,
    number: int,
    when: str,
    who: str,
    what_for: str,
    sha256: str,
    tombstone: bool,
    previous: str,
) -> str:
    """Give the chain hash of an entry: SHA-256 of these values as one JSON list in UTF-8."""
    values = [sequence, iri, number, when, who, what_for, sha256, tombstone, previous]
    return hashlib.sha256(json.dumps(values, ensure_ascii=False, separators=(",", ":")).encode()).hexdigest()
