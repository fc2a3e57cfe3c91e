"""Records as a table in CSV (RFC 4180), one row a record of one kind, with a heading of field names."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import BinaryIO

from guardbook.records.base import Record
from guardbook.records.documents import to_document
from guardbook.records.fields import fields_of
from guardbook.records.fragment import Fragment


def write_csv(records: Iterable[Record], output: BinaryIO) -> None:
    """Write the fragments among the records, one a row; values of one field are joined by '; '."""
    names = ["id", *(field.json_name for field in fields_of(Fragment) if not field.part)]
    text = io.TextIOWrapper(output, encoding="utf-8-sig", newline="", write_through=True)
    table = csv.DictWriter(text, names, extrasaction="ignore", restval="")
    table.writeheader()
    for record in records:
        if isinstance(record, Fragment):
            table.writerow({name: _cell(value) for name, value in to_document(record).items()})
    text.detach()


def _cell(value: object) -> str:
    return "; ".join(str(item) for item in value) if isinstance(value, list) else str(value)
