"""Lists that people write within one cell: holes, sewing stations, gatherings, stages.

Each reader gives the parts as plain documents, and what may be read in two ways as (taken, other). All
raise ValueError saying what was expected.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from guardbook.intake.when import date_written
from guardbook.records import terms
from guardbook.units import Read, number, numbers, plain, whole_number

_ROW_OF_HOLES = re.compile(r"(?:x\s*=?\s*(?P<x>[^:]+):)?(?P<heights>[^:]*)", re.IGNORECASE)
_STAGE = re.compile(r"(?:(?P<number>\d+)[.):]?\s+)?(?P<rest>.+)", re.ASCII | re.DOTALL)
_OF_LEAVES = re.compile(r"(?P<many>\d+)\s*[x×*]\s*(?P<leaves>\d+)", re.ASCII | re.IGNORECASE)
_MOST_GATHERINGS = 500


@dataclass(frozen=True)
class Listed:
    """The parts a cell lists; `doubts` are the (taken, other) readings of what is not clear."""

    parts: tuple[Mapping[str, Any], ...]
    doubts: tuple[tuple[str, str], ...] = ()


def _doubts(*reads: Read) -> tuple[tuple[str, str], ...]:
    return tuple((plain(read.value), read.or_else) for read in reads if read.or_else)


def holes(text: str, feature: str) -> Listed:
    """Read rows of holes: `12 48,5 97`, or `x 30: 12 48,5 97 | x 34: 12 97`; each row is one series.

    >>> holes("x 30: 12 48,5", "sewing-hole").parts[1]["y"]
    '48.5'
    """
    parts: list[dict[str, Any]] = []
    doubts: list[tuple[str, str]] = []
    for at, row in enumerate(text.split("|")):
        found = _ROW_OF_HOLES.fullmatch(row.strip())
        if not found:
            raise ValueError("heights from the tail, such as 12 48,5 97 or x 30: 12 48,5 97 | x 34: 12 97")
        heights = numbers(found["heights"])
        across = [number(found["x"])] if found["x"] else []
        doubts += _doubts(*across, *heights)
        side = {"x": plain(across[0].value)} if across else {}
        parts += [{"featureKind": feature, **side, "y": plain(y.value), "inSeries": at} for y in heights]
    return Listed(tuple(parts), tuple(doubts))


def stations(text: str) -> Listed:
    """Read sewing stations, as heights from the tail in mm: `12 48 97 150`."""
    found = numbers(text)
    return Listed(tuple({"y": plain(read.value)} for read in found), _doubts(*found))


def gatherings(text: str) -> Listed:
    """Read gatherings: how many (`12`), of how many leaves (`12 x 8`), or the leaves of each (`8 8 6`).

    >>> len(gatherings("12 x 8").parts)
    12
    """
    if equal := _OF_LEAVES.fullmatch(text.strip()):
        return _gatherings(int(equal["many"]), int(equal["leaves"]))
    words = text.replace(";", " ").replace(",", " ").split()
    counts = [int(whole_number(word).value) for word in words]
    if len(counts) == 1:
        return _gatherings(counts[0], None)
    if not counts:
        raise ValueError("how many gatherings there are, such as 12, 12 x 8 or 8 8 6")
    return Listed(tuple({"number": at, "leafCount": leaves} for at, leaves in enumerate(counts, 1)))


def _gatherings(many: int, leaves: int | None) -> Listed:
    if not 1 <= many <= _MOST_GATHERINGS:
        raise ValueError(f"1 to {_MOST_GATHERINGS} gatherings")
    each = {} if leaves is None else {"leafCount": leaves}
    return Listed(tuple({"number": at, **each} for at in range(1, many + 1)))


def stages(text: str) -> Listed:
    """Read stages with their number, kind and date: `1 bound 1510~; 2 as received 2024`.

    >>> stages("1 bound 1510~; 2 as received").parts[1]
    {'number': 2, 'stageKind': 'as-received'}
    """
    parts = []
    doubts: list[tuple[str, str]] = []
    for at, piece in enumerate(filter(None, (row.strip() for row in re.split(r"[;\n]", text))), 1):
        found = _STAGE.fullmatch(piece)
        if not found:
            raise ValueError("stages such as 1 bound 1510~; 2 as received 2024")
        kind, date = _kind_and_date(found["rest"].split())
        part: dict[str, Any] = {"number": int(found["number"] or at), "stageKind": kind}
        if date:
            dated = date_written(date)
            part["when"] = dated.value
            doubts += [(dated.value, dated.or_else)] if dated.or_else else []
        parts.append(part)
    return Listed(tuple(parts), tuple(doubts))


def _kind_and_date(words: list[str]) -> tuple[str, str]:
    """Take the longest name of a kind of stage off the front; the rest is a date."""
    for length in range(len(words), 0, -1):
        if slug := terms.slug_for("stage-kind", " ".join(words[:length])):
            return slug, " ".join(words[length:])
    written = " ".join(words)
    near = terms.near("stage-kind", written) or tuple(sorted(terms.all_concepts()["stage-kind"]))
    raise ValueError(f"a kind of stage before the date. Near terms: {', '.join(near)}.")
