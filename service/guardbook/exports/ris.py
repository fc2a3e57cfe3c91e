"""Citations as RIS, in UTF-8, one tag a line.

Source: the RIS format specification (Research Information Systems, 2011), from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import BinaryIO

from guardbook.exports.citation import Citation, citations
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record


def write_ris(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write one reference a record."""
    for found in citations(records, around):
        lines = "".join(f"{tag}  - {value}\r\n" for tag, value in _tags(found) if value)
        output.write(f"{lines}ER  - \r\n\r\n".encode())


def _tags(found: Citation) -> Iterator[tuple[str, str | None]]:
    yield "TY", "ELEC"
    yield "ID", found.key
    yield "TI", found.title
    for name in found.authors:
        yield "AU", name
    yield "T2", found.catalogue
    if found.revision is not None:
        yield "ET", f"revision {found.revision}"
    if found.revised:
        yield "PY", str(found.revised.year)
        yield "DA", f"{found.revised:%Y/%m/%d}"
    yield "Y2", f"{found.seen:%Y/%m/%d}"
    yield "UR", found.iri
    yield "DP", found.keeper
    yield "CN", found.shelfmark
    yield "N1", found.cite_as
