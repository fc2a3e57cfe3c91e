"""Citations as CSL-JSON, which reference managers and citation processors read.

Source: the schema of CSL 1.0.2 (csl-data.json), from memory.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import date
from typing import Any, BinaryIO

from guardbook.exports.citation import Citation, citations
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record


def write_csl_json(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write a list with one item a record."""
    output.write(b"[")
    for number, found in enumerate(citations(records, around)):
        item = json.dumps(_item(found), ensure_ascii=False)
        output.write((",\n" if number else "\n").encode() + item.encode())
    output.write(b"\n]\n")


def _item(found: Citation) -> dict[str, Any]:
    said = {
        "id": found.key,
        "type": "entry",
        "title": found.title,
        "author": [{"literal": name} for name in found.authors],
        "container-title": found.catalogue,
        "version": None if found.revision is None else str(found.revision),
        "issued": found.revised and _date(found.revised),
        "accessed": _date(found.seen),
        "URL": found.iri,
        "archive": found.keeper,
        "archive_location": found.shelfmark,
        "note": found.cite_as,
    }
    return {name: value for name, value in said.items() if value}


def _date(day: date) -> dict[str, list[list[int]]]:
    return {"date-parts": [[day.year, day.month, day.day]]}
