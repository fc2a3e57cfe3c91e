"""Citations as BibTeX, in UTF-8: `@misc`, which every style knows, with the fields newer ones read too."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import BinaryIO

from guardbook.exports.citation import Citation, citations
from guardbook.exports.surroundings import ALONE, Surroundings
from guardbook.records.base import Record

# Signs that LaTeX takes for orders; braces by name, since BibTeX counts them even behind a backslash.
_IN_LATEX = str.maketrans(
    {
        "\\": r"\textbackslash{}",
        "{": r"\lbrace{}",
        "}": r"\rbrace{}",
        "~": r"\textasciitilde{}",
        "^": r"\textasciicircum{}",
        **{sign: f"\\{sign}" for sign in "&%$#_"},
    }
)
# pairs that LaTeX would set as a dash or as quotation marks
_PAIR = re.compile(r"([-'`,<>])(?=\1)")


def write_bibtex(records: Iterable[Record], output: BinaryIO, around: Surroundings = ALONE, /) -> None:
    """Write one entry a record."""
    for found in citations(records, around):
        fields = "".join(f"  {name} = {{{value}}},\n" for name, value in _fields(found))
        output.write(f"@misc{{{found.key},\n{fields}}}\n\n".encode())


def _fields(found: Citation) -> Iterator[tuple[str, str]]:
    # a second pair of braces keeps capitals as they are, and a name whole
    yield "title", f"{{{_latex(found.title)}}}"
    if found.authors:
        yield "author", " and ".join(f"{{{_latex(name)}}}" for name in found.authors)
    yield "howpublished", _latex(found.catalogue)
    if found.revision is not None:
        yield "version", str(found.revision)
    if found.revised:
        yield "date", found.revised.isoformat()
        yield "year", str(found.revised.year)
        yield "month", str(found.revised.month)
    yield "url", found.iri
    yield "urldate", found.seen.isoformat()
    if note := _note(found):
        yield "note", _latex(note)


def _note(found: Citation) -> str:
    held = found.cite_as or ", ".join(filter(None, [found.keeper, found.shelfmark]))
    revision = "" if found.revision is None else f"Revision {found.revision}"
    return ". ".join(part.rstrip(".") for part in (held, revision) if part)


def _latex(text: str) -> str:
    return _PAIR.sub(r"\1{}", text.translate(_IN_LATEX))
