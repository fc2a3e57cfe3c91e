"""Pieces as a table in CSV (RFC 4180): one row a piece with its placing and its separation.

The columns and their headings are those of the spreadsheet that can be added, so the table can be read
back. What needs a list within a cell (holes, folds, series) is left to the other formats. A second placing
or separation of a piece gets a row of its own that repeats only the piece's identifier.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, BinaryIO

from guardbook.intake.cells import kept_from_running
from guardbook.intake.columns import Column, Holds, columns_of
from guardbook.intake.headings import label_in_sheet
from guardbook.intake.when import unmistakable
from guardbook.records.base import Record
from guardbook.records.documents import to_document
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

_SHEET = "pieces"
_LISTS = {Holds.HOLES, Holds.STAGES, Holds.STATIONS, Holds.GATHERINGS, Holds.REVISION}
Row = dict[str, Mapping[str, Any]]


def columns() -> tuple[Column, ...]:
    """Give the columns of the table."""
    return tuple(column for column in columns_of(_SHEET) if column.holds not in _LISTS)


def write_csv(records: Iterable[Record], output: BinaryIO) -> None:
    """Write pieces, each followed by its events among the records; other records are passed over."""
    text = io.TextIOWrapper(output, encoding="utf-8-sig", newline="", write_through=True)
    table = csv.writer(text)
    table.writerow(heading(column) for column in columns())
    for row in rows(records):
        table.writerow(_cell(column, row) for column in columns())
    text.detach()


def heading(column: Column, language: str = "en") -> str:
    """Give what stands over a column."""
    return label_in_sheet(column, _SHEET, language)


def rows(records: Iterable[Record]) -> Iterator[Row]:
    """Give the documents that each row is made of, by the names of their models."""
    row: Row = {}
    for record in records:
        name, document = type(record).__name__, to_document(record)
        if isinstance(record, Fragment):
            if row:
                yield row
            row = {name: document}
        elif isinstance(record, (Placing, Separation)) and row:
            if name in row or not _together(row, document):
                yield row
                row = {"Fragment": {"id": record.piece}}
            row[name] = document
    if row:
        yield row


def _together(row: Row, document: Mapping[str, Any]) -> bool:
    """Tell whether an event fits into a row: same piece, and the same volume as the event already there."""
    hosts = {found["host"] for found in (*row.values(), document) if "host" in found}
    return row["Fragment"]["id"] == document["piece"] and len(hosts) < 2


def values(column: Column, row: Row) -> list[Any]:
    """Give the values of a row's cell as they stand in the documents, none for an empty one."""
    value: Any = row.get(column.model, {})
    if column.model == "Placing" and column.name == "host" and not value:
        value = row.get("Separation", {})
    for step in column.path:
        value = value[0] if isinstance(value, list) and value else value
        value = value.get(step) if isinstance(value, dict) else None
    if value is None:
        return []
    return value if isinstance(value, list) else [value]


def _cell(column: Column, row: Row) -> str:
    text = "; ".join(_written(item, column) for item in values(column, row))
    return kept_from_running(text) if column.holds is Holds.TEXT else text


def _written(value: Any, column: Column) -> str:
    if column.holds is Holds.DATE:
        return unmistakable(str(value))
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else str(value)
