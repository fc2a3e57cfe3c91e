"""From the rows of a sheet to drafts: one row says something of one record, or of a piece and two events."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from guardbook.intake.cells import Answered, Cell, read_cell
from guardbook.intake.columns import Column, Holds
from guardbook.intake.drafts import Draft, Findings, Mention, RowDraft, SameRow
from guardbook.intake.headings import Heading, match_headings
from guardbook.intake.tables import Line, Table
from guardbook.intake.words import models_of
from guardbook.records.documents import TYPES
from guardbook.wording import _

Progress = Callable[[int, int], None]
_LISTS = {Holds.HOLES, Holds.STAGES, Holds.STATIONS, Holds.GATHERINGS}


@dataclass
class _Filled:
    """What the cells of a row say of one record."""

    values: dict[str, Any] = field(default_factory=dict)
    parts: dict[str, dict[str, Any]] = field(default_factory=lambda: defaultdict(dict))
    lists: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    answers: dict[str, str] = field(default_factory=dict)
    cells: dict[str, str] = field(default_factory=dict)

    def put(self, column: Column, value: Any, cell: Cell) -> None:
        self.cells[column.name] = cell.where
        self.cells.setdefault(column.path[0], cell.where)
        if isinstance(value, Answered):
            self.answers[column.name] = value.slug
        elif column.holds in _LISTS:
            self.lists[column.path[0]] = (*self.lists.get(column.path[0], ()), *value)
        elif len(column.path) > 1:
            self.parts[column.path[0]][column.path[1]] = value
        else:
            self.values[column.name] = value


def drafts_of(
    table: Table, kind: str, findings: Findings, progress: Progress | None = None
) -> Iterator[Draft]:
    """Give the drafts of all rows of a table, read as this kind of sheet; faults go to the findings."""
    headings = match_headings(table.headings, kind, findings)
    for line in table.lines:
        if progress:
            progress(line.number, max(table.size, line.number))
        if findings.full:
            only = _("{name} was read to row {row} only: mend what is wrong so far first")
            findings.note(only.format(name=table.where, row=line.number))
            return
        yield from _drafts(line, headings, f"{table.where}, row {line.number}", kind, findings)


def _drafts(
    line: Line, headings: list[Heading | None], where: str, kind: str, findings: Findings
) -> Iterator[RowDraft]:
    models = models_of(kind)
    filled = {model: _Filled() for model in models}
    for cell, heading in zip(line.cells, headings, strict=False):
        if cell is not None and heading is not None:
            for column, value in read_cell(cell, heading, findings).items():
                filled[column.model].put(column, value, cell)
    if kind == "pieces":
        _share_the_row(filled)
    for model in models:
        if filled[model].cells or model == models[0]:
            yield _draft(TYPES[model].kind, where, filled[model])


def _share_the_row(filled: dict[str, _Filled]) -> None:
    """Let the events of a row name its piece and its host.

    A host with nothing else said of a placing, but with a separation, is the host of the separation alone:
    the piece was found loose, or its placing is known already.
    """
    placing, separation = filled["Placing"], filled["Separation"]
    if separation.cells and "host" in placing.cells:
        separation.values["host"] = placing.values.get("host")
        separation.cells["host"] = placing.cells["host"]
        if set(placing.cells) == {"host"}:
            filled["Placing"] = _Filled()
    for event in (filled["Placing"], separation):
        if event.cells:
            event.values["piece"] = SameRow("fragment")


def _draft(kind: str, where: str, filled: _Filled) -> RowDraft:
    revision = filled.values.pop("revision", None)
    if isinstance(identifier := filled.values.get("id"), str):
        filled.values["id"] = Mention(identifier)
    return RowDraft(
        kind=kind,
        row=where,
        where=where,
        values=filled.values,
        parts=dict(filled.parts),
        lists=filled.lists,
        answers=filled.answers,
        cells=filled.cells,
        revision=revision,
    )
