"""Citations in plain words, one a line, to be pasted into a footnote."""

from __future__ import annotations

from collections.abc import Iterable
from typing import BinaryIO

from guardbook.exports.citation import Citation, citations
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record


def write_plain(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write one citation a line."""
    output.writelines(f"{in_words(found)}\n".encode() for found in citations(records, around))


def in_words(found: Citation, *, with_day_read: bool = True) -> str:
    """Say who described what, where it is kept, and which revision was read where and, if asked for, when.

    Days are written year-month-day, which is read the same everywhere.
    """
    held = found.cite_as or ", ".join(filter(None, [found.keeper, found.shelfmark]))
    told = (", ".join(found.authors), found.title, held, _revision(found))
    sentences = " ".join(f"{part}." for text in told if (part := text.rstrip(". ")))
    read = f" (read {found.seen.isoformat()})." if with_day_read else ""
    return f"{sentences} {found.iri}{read}"


def _revision(found: Citation) -> str:
    if found.revision is None or found.revised is None:
        return found.catalogue
    return f"{found.catalogue}, revision {found.revision} of {found.revised.isoformat()}"
