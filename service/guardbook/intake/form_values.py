"""From what stands in one input of a form to the value of its field, read as a cell of a spreadsheet is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from guardbook.intake.cells import Cell, read_cell
from guardbook.intake.columns import Holds, column_of
from guardbook.intake.drafts import Findings, StageMention
from guardbook.intake.form_texts import is_one_a_line
from guardbook.intake.headings import Heading
from guardbook.records import terms
from guardbook.records.base import Model
from guardbook.records.fields import FieldPath
from guardbook.records.values import Reference, Scheme, WithinRecord

_STAGE = re.compile(r".+#stage-[\w.-]+")


def read_texts(
    texts: Sequence[str], model: type[Model], field: FieldPath, where: str, findings: Findings
) -> Any:
    """Read the texts of one input: a value as it stands in a document, or None where nothing is said.

    A record that is named is a Mention, a stage a StageMention, and an answer in place of a value is
    Answered. What cannot be read, and what has two readings, goes to the findings, with `where`.
    """
    written = [text.strip() for text in texts if text.strip()]
    if not written:
        return None
    match field.marker:
        case WithinRecord(part):
            return _within(written[0], part)
        case Scheme(name) if field.many and len(written) > 1:
            return [terms.slug_for(name, text) or text for text in written]
        case Reference(part="stage"):
            return written[0] if _STAGE.fullmatch(written[0]) else StageMention(written[0])
        case _:
            return _as_cell(written[0], model, field, where, findings)


def _within(text: str, part: str) -> str:
    """Give the name of a part of the same record; its number is enough."""
    name = text.removeprefix("#")
    return f"#{part}-{name}" if name.isdigit() else f"#{name}"


def _as_cell(text: str, model: type[Model], field: FieldPath, where: str, findings: Findings) -> Any:
    column = column_of(model, field.json_name)
    if column.holds is Holds.TEXT:
        # a form knows nothing of formulas, nor of answers in brackets: a text is what was typed
        return _lines(text, field) if field.many else text
    cell = Cell(text, where)
    if cell.is_empty:
        return None
    return read_cell(cell, Heading((column,), where), findings).get(column)


def _lines(text: str, field: FieldPath) -> list[str]:
    parts = re.split(r"\n" if is_one_a_line(field) else r"[;\n]", text)
    return [part.strip() for part in parts if part.strip()]
