"""The lines that survive on a piece, read from its transcription, and where each begins in a known text.

A transcription has one line of the piece a line (or parted by `/` or `|`), with or without its number before
it, and `[...]` where something is lost: `7 [...] die ac nocte. Et [...]`. Letters supplied in brackets count.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

_LOST = re.compile(r"\[\s*(?:\.[\s.]*|…)\s*\]")
_NUMBER = re.compile(r"\s*(\d+)[.:)]?\s+")
_SAME = str.maketrans({"j": "i", "v": "u", "æ": "ae", "œ": "oe", "ę": "ae", "ſ": "s", "ß": "ss"})
# fewer letters in a row than this are found anywhere
FEWEST_LETTERS = 6
FEWEST_BETWEEN_NEIGHBOURS = 3


@dataclass(frozen=True)
class SurvivingLine:
    """A line of a piece: its number on the leaf, or on the piece where that is not known, and its letters.

    `chunks` are its stretches without loss; `is_from_start` says that nothing is lost before the first.
    `starts_at` is where that stands in the known text, counted in letters; None where it was not found, or in
    more than one place.
    """

    number: int
    chunks: tuple[str, ...]
    is_from_start: bool = False
    starts_at: int | None = None


def letters(text: str) -> str:
    """Give a text as bare letters, for comparing: no case, accents, spaces or points; i for j, u for v.

    >>> letters("Ideo non resurgent IMPII, in judicio")
    'ideononresurgentimpiiiniudicio'
    """
    plain = unicodedata.normalize("NFKD", text.casefold().translate(_SAME))
    return "".join(sign for sign in plain if sign.isalpha())


def lines_on(transcription: str | None, first: int | None, last: int | None) -> tuple[SurvivingLine, ...]:
    """Read the lines of a transcription; `first` and `last` are the numbers of the piece's lines on the leaf.

    Lines without a number count on from the one before.
    """
    found: list[SurvivingLine] = []
    for written in re.split(r"\n|\s/\s|\|", transcription or ""):
        numbered = _NUMBER.match(written)
        body = written[numbered.end() :] if numbered else written
        chunks = tuple(filter(None, (letters(chunk) for chunk in _LOST.split(body))))
        following = found[-1].number + 1 if found else first or 1
        if chunks or numbered:
            number = int(numbered[1]) if numbered else following
            found.append(SurvivingLine(number, chunks, is_from_start=not _LOST.match(body.lstrip())))
    within = last is None or not found or found[-1].number <= last
    return tuple(found) if within else ()


def located(lines: Sequence[SurvivingLine], text: str) -> tuple[SurvivingLine, ...]:
    """Find where each line begins in a known text given as bare letters.

    First what stands in it only once; then, between two lines found, what stands only once between them.
    """
    sure = [replace(line, starts_at=_place(line, text, 0, len(text), FEWEST_LETTERS)) for line in lines]
    sure = _in_order(sure)
    known = [(at, line.starts_at) for at, line in enumerate(sure) if line.starts_at is not None]
    result = list(sure)
    for (before, start), (after, end) in pairwise(known):
        for at in range(before + 1, after):
            place = _place(sure[at], text, start, end, FEWEST_BETWEEN_NEIGHBOURS)
            result[at] = replace(sure[at], starts_at=place)
    return tuple(_in_order(result))


def _place(line: SurvivingLine, text: str, start: int, end: int, fewest: int) -> int | None:
    """Find the first stretch of a line, whole or by one of its halves where a letter was read otherwise."""
    chunk = line.chunks[0] if line.chunks else ""
    half = len(chunk) // 2
    for begins, part in ((0, chunk), (0, chunk[:half]), (half, chunk[half:])):
        if len(part) < fewest or (part != chunk and len(part) < FEWEST_LETTERS):
            continue
        at = text.find(part, start, end)
        if at >= begins and text.find(part, at + 1, end) < 0:
            return at - begins
    return None


def _in_order(lines: list[SurvivingLine]) -> list[SurvivingLine]:
    """Forget the places of lines that would stand before an earlier one: they were found by chance."""
    places = [(at, line.starts_at) for at, line in enumerate(lines) if line.starts_at is not None]
    kept = set(_longest_rise(places))
    return [line if at in kept else replace(line, starts_at=None) for at, line in enumerate(lines)]


def _longest_rise(places: Sequence[tuple[int, int]]) -> list[int]:
    """Give the lines of the longest row of places each further on than the one before."""
    best: list[list[int]] = []
    for at, (line, place) in enumerate(places):
        before = [best[n] for n in range(at) if places[n][1] < place]
        best.append([*max(before, key=len, default=[]), line])
    return max(best, key=len, default=[])
