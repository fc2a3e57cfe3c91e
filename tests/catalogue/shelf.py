"""A small shelf of invented records, and saving them in few words."""

from __future__ import annotations

import zlib
from typing import Any

from guardbook.catalogue.access import Access, Change, Revision
from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.identifiers import DIGITS, LENGTH, check_symbol
from guardbook.records.kinds import KINDS
from guardbook.settings import DEFAULT_BASE

WHO = "Mira at the bench"


def iri(kind: str, name: str) -> str:
    """Give the same valid address for the same name each time."""
    number = zlib.crc32(name.encode())
    while True:
        digits = "".join(DIGITS[number >> 5 * place & 31] for place in range(LENGTH))
        if (symbol := check_symbol(digits)).isalnum():
            return f"{DEFAULT_BASE}{kind}/{digits}-{symbol}"
        number += 1


def made(kind: str, name: str, /, **fields: Any) -> Record:
    """Make a record of a kind from the fields of its JSON document."""
    return from_document({"id": iri(kind, name), "type": KINDS[kind].__name__, **fields})


def strip(name: str = "strip", /, **fields: Any) -> Record:
    """Make a fragment."""
    return made("fragment", name, **{"title": f"A {name}", "material": "parchment", **fields})


def volume(name: str = "volume", /, **fields: Any) -> Record:
    """Make a host volume that was bound once."""
    stages = [{"id": "#stage-1", "number": 1, "stageKind": "bound"}]
    return made("host", name, **{"title": f"A {name}", "stages": stages, **fields})


def placing(piece: Record, host: Record, **fields: Any) -> Record:
    """Make the placing of a piece in a volume."""
    return made("placing", f"{piece.id} in {host.id}", piece=piece.id, host=host.id, **fields)


def save(access: Access, *records: Record, from_revision: int | None = None) -> tuple[Revision, ...]:
    """Save records, all new or all from one number."""
    changes = [Change(record, from_revision) for record in records]
    return access.save(changes, who=WHO, what_for="to have it")


def changed(record: Record, **fields: Any) -> Record:
    """Give the record with some fields changed (names as in Python)."""
    return record.model_copy(update=fields)
