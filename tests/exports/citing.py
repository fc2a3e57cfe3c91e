"""A record with its revision, as a format of citations is handed it."""

from __future__ import annotations

import io
from datetime import UTC, date, datetime
from typing import Any

from guardbook.catalogue.revisions import Kept
from guardbook.exports.formats import FORMATS
from guardbook.exports.surroundings import Surroundings
from guardbook.records.base import Record
from tests.catalogue.shelf import made

READ_ON = date(2026, 2, 1)
SAVED_ON = datetime(2024, 3, 5, 9, 30, tzinfo=UTC)
KEEPER = made("institution", "keeper", name="Library of the Weir")
MIRA = made("agent", "Mira", name="Mira Taskovent", mayBeNamed=True)

# what breaks a form that is carelessly written: orders, unbalanced braces, right to left, lines of their own
HARD_TITLES = (
    "=1+1 & 10% of #3_b for $5 ~ more",
    r"\input{secrets} {un}balanced }{",
    "פיסת קלף, \u200fשורה 2",
    "e\u0301 and a\u0308 combined, 𝔄𐍈 astral",
    "first line\nTY  - BOOK\nER  - \n@misc{x,\u2028second",
    "1512--1519, ``said'' he",
    '"quoted", and <b>bold</b>',
)


def piece(title: str = "Strip 2 of the spine", **fields: Any) -> Record:
    """Make a piece that Mira described and the library keeps."""
    told = {"keeper": KEEPER.id, "shelfmark": "Bri. 17, strip 2", "seenBy": MIRA.id}
    return made("fragment", "cited", title=title, **{**told, **fields})


def cited(form: str, *records: Record) -> str:
    """Write records in one of the forms, each as its third revision."""
    shelf = {record.id: record for record in (KEEPER, MIRA, *records)}

    def kept(iri: str) -> Kept | None:
        return Kept(shelf[iri], 3, SAVED_ON, "") if iri in shelf else None

    output = io.BytesIO()
    FORMATS[form].write(iter(records), output, Surroundings(kept=kept, today=READ_ON))
    return output.getvalue().decode()


def on_one_line(text: str) -> str:
    """Give a text as a citation has it."""
    return " ".join(text.split())
