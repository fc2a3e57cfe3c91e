"""The rows that searching reads: the words of a record, and its numbers and shelfmarks in one piece."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.catalogue.folding import squeezed, words
from guardbook.records.base import Model, Part, Record
from guardbook.records.fields import fields_of
from guardbook.records.values import EDTF, XSD, Datatype

SEARCHED = frozenset((XSD + "string", XSD + "anyURI", EDTF))
CODE_FIELDS = frozenset(("workshop_number", "shelfmark"))


@dataclass(frozen=True)
class TextRow:
    """What is searched for one audience: title, all other words, and codes, each squeezed."""

    title: str
    text: str
    code: str


def texts_in(model: Model) -> Iterator[tuple[str, str]]:
    """Give every text of a record or part with the name of its field, at any depth."""
    for field in fields_of(type(model)):
        value = getattr(model, field.name)
        searched = isinstance(field.marker, Datatype) and field.marker.iri in SEARCHED
        for item in value if field.many else (value,):
            if isinstance(item, Part):
                yield from texts_in(item)
            elif searched and item is not None:
                yield field.name, str(item)


def text_row(record: Record) -> TextRow:
    """Give the row of a record; of a redacted record it is what the public may find it by."""
    found = list(texts_in(record))
    codes = [squeezed(text) for name, text in found if name in CODE_FIELDS]
    return TextRow(
        title=" ".join(words(record.title or "")),
        text=" ".join(" ".join(words(text)) for name, text in found if name != "title"),
        code=" ".join([squeezed(record.identifier), *codes]),
    )


def write_row(connection: sqlite3.Connection, row_id: int, row: TextRow | None) -> None:
    """Put a row in place of what was there; None only takes it away."""
    connection.execute("DELETE FROM texts WHERE rowid = ?", (row_id,))
    connection.execute("DELETE FROM codes WHERE rowid = ?", (row_id,))
    if row:
        connection.execute(
            "INSERT INTO texts (rowid, title, text) VALUES (?, ?, ?)", (row_id, row.title, row.text)
        )
        connection.execute("INSERT INTO codes (rowid, code) VALUES (?, ?)", (row_id, row.code))
