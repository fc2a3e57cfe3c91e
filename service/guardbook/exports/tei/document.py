"""One TEI document that holds the descriptions, written one after the other.

A catalogue of descriptions without texts: each `msDesc` stands in the body, in a list. Checked against
TEI P5 4.3.0.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import BinaryIO

from guardbook import settings
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.exports.tei.descriptions import described
from guardbook.exports.tei.elements import as_bytes, element
from guardbook.records.base import Record

_BEGINNING = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<TEI xmlns="http://www.tei-c.org/ns/1.0" xml:lang="{}">\n'
)


def write_tei(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write the pieces, volumes and carriers among the records; others are told of within these."""
    output.write(_BEGINNING.format(around.language).encode())
    output.write(_header(around) + b"\n<text><body>\n")
    empty = True
    for record in records:
        if (made := described(record, around)) is not None:
            output.write(b"<listBibl>\n" if empty else b"")
            output.write(as_bytes(made) + b"\n")
            empty = False
    output.write(b"<p/>\n" if empty else b"</listBibl>\n")
    output.write(b"</body></text>\n</TEI>\n")


def _header(around: Surroundings) -> bytes:
    here = settings.current()
    day = around.today.isoformat()
    return as_bytes(
        element(
            "teiHeader",
            element(
                "fileDesc",
                element("titleStmt", element("title", here.name)),
                element("publicationStmt", element("publisher", here.name), element("date", day, when=day)),
                element("sourceDesc", element("p", element("ref", here.base, target=here.base))),
            ),
        )
    )
