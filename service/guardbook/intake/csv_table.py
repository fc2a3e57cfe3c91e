"""CSV files as they come: with commas, semicolons or tabs, in UTF-8 or in an older encoding."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator

from guardbook.errors import Fault, UnreadableFile
from guardbook.intake.drafts import Findings
from guardbook.intake.tables import RawRow, Table, laid_out
from guardbook.wording import _

_DELIMITERS = ",;\t"
_MARKED = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_LONGEST_CELL = 1_000_000
_QUOTED = re.compile(r'"[^"]*"')
_SAID = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)


def read_csv(data: bytes, name: str, findings: Findings) -> Table | None:
    """Read a CSV file as one table, or None where it is empty. Raises UnreadableFile.

    A file that is not UTF-8 is read as Windows-1252 (which holds Latin-1), and a note says so.
    """
    text = io.TextIOWrapper(io.BytesIO(data), encoding=_encoding(data, name, findings), newline="")
    stem = name.rpartition("/")[2].rpartition(".")[0]
    return laid_out(_rows(text, name), name, stem, data.count(b"\n"), findings)


def _encoding(data: bytes, name: str, findings: Findings) -> str:
    for mark, encoding in _MARKED:
        if data.startswith(mark):
            return encoding
    try:
        codecs.decode(data, "utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        encoding = "cp1252" if _decodes(data, "cp1252") else "latin-1"
        around = re.search(rb"[^\s,;\t\"]*$", data[: error.start])
        start = around.start() if around else error.start
        word = re.split(r"[\s,;\t\"]", data[start : start + 60].decode(encoding))[0]
        sentence = _(
            "{name} is not UTF-8 and was read as Windows-1252 (Latin-1); look whether this word is right"
        )
        case = _("{word} in line {line}").format(word=repr(word), line=line)
        findings.note(sentence.format(name=name), case)
        return encoding
    return "utf-8"


def _decodes(data: bytes, encoding: str) -> bool:
    try:
        codecs.decode(data, encoding)
    except UnicodeDecodeError:
        return False
    return True


def _rows(text: io.TextIOWrapper, name: str) -> Iterator[RawRow]:
    csv.field_size_limit(_LONGEST_CELL)
    first = text.readline()
    said = _SAID.fullmatch(first)
    delimiter = said[1] if said else _delimiter(first)
    if not said:
        text.seek(0)
    reader = csv.reader(text, delimiter=delimiter, strict=True)
    number = 1 if said else 0
    try:
        for row in reader:
            number += 1
            yield number, [value or None for value in row]
    except (csv.Error, UnicodeError) as error:
        raise UnreadableFile(
            message=_("{name} cannot be read as CSV.").format(name=name),
            faults=(
                Fault(
                    where=f"{name}, line {reader.line_num}",
                    found=str(error),
                    expected=_("cells with commas, semicolons or tabs between them"),
                    mend=_("Look for a double quote that is opened and not closed, at or before this line."),
                ),
            ),
        ) from error


def _delimiter(first: str) -> str:
    """Give the mark that stands most often between the headings."""
    outside = _QUOTED.sub("", first)
    return max(_DELIMITERS, key=outside.count)
