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
from guardbook.wording import _

_ROW_OF_HOLES = re.compile(r"(?:x\s*=?\s*(?P<x>[^:(]+):)?(?P<heights>[^:]*)", re.IGNORECASE)
_POINT = re.compile(r"\((?P<point>[^()]*)\)")
_FOLD = re.compile(
    r"\((?P<start>[^()]*)\)\s*[-\u2013\u2212]\s*\((?P<end>[^()]*)\)|x\s*=?\s*(?P<x>[0-9.,]+)|(?P<y>[^\s;]+)",
    re.IGNORECASE,
)
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

    A hole out of line is written as a point: `x 30: 12 97 (34, 60)`.

    >>> holes("x 30: 12 48,5", "sewing-hole").parts[1]["y"]
    '48.5'
    """
    parts: list[dict[str, Any]] = []
    doubts: list[tuple[str, str]] = []
    for at, row in enumerate(text.split("|")):
        found = _ROW_OF_HOLES.fullmatch(row.strip())
        if not found:
            raise ValueError(_("heights from the tail, such as 12 48,5 97 or x 30: 12 48,5 97 | x 34: 12 97"))
        points = [_point(one["point"]) for one in _POINT.finditer(found["heights"])]
        in_line = _POINT.sub(" ", found["heights"])
        heights = numbers(in_line) if in_line.strip() or not points else ()
        across = [number(found["x"])] if found["x"] else []
        doubts += _doubts(*across, *heights)
        side = {"x": plain(across[0].value)} if across else {}
        row_of = {"featureKind": feature, "inSeries": at}
        parts += [{**row_of, **side, "y": plain(y.value)} for y in heights]
        parts += [{**row_of, "x": x, "y": y} for x, y in points]
    return Listed(tuple(parts), tuple(doubts))


def folds(text: str, width: str = "", height: str = "") -> Listed:
    """Read folds: across the piece (`97`, from its tail), from tail to head (`x 30`), or slanting.

    A slanting one goes from point to point, `(0, 40)-(20, 60)`. Where the size of the piece is given, in mm,
    a fold runs from edge to edge.

    >>> folds("97", width="20").parts[0]["toX"]
    '20'
    """
    parts: list[dict[str, Any]] = []
    doubts: list[tuple[str, str]] = []
    for one in _FOLD.finditer(re.sub(r",\s+(?![^()]*\))", " ", text)):
        if one["start"] is not None:
            (x, y), (to_x, to_y) = _point(one["start"]), _point(one["end"])
            ends = {"x": x, "y": y, "toX": to_x, "toY": to_y}
        else:
            read = number(one["x"] or one["y"])
            doubts += _doubts(read)
            at = plain(read.value)
            ends = _across(at, width) if one["x"] is None else _along(at, height)
        parts.append({"featureKind": "fold", "inSeries": 0, **ends})
    if not parts:
        raise ValueError(_("folds in mm from the tail, such as 40 97; x 30 for one from tail to head"))
    return Listed(tuple(parts), tuple(doubts))


def _across(y: str, width: str) -> dict[str, str]:
    return {"x": "0", "y": y, "toX": width, "toY": y} if width else {"y": y}


def _along(x: str, height: str) -> dict[str, str]:
    return {"x": x, "y": "0", "toX": x, "toY": height} if height else {"x": x}


def _point(text: str) -> tuple[str, str]:
    """Read `34, 60`, `34; 60` or `30,5; 48,5`: across and from the tail."""
    for mark in (";", r",\s", r"\s", ","):
        if len(found := re.split(rf"\s*{mark}\s*", text.strip())) == 2:
            x, y = (number(one) for one in found)
            return plain(x.value), plain(y.value)
    raise ValueError(_("a point as two numbers in mm, across and from the tail, such as (34, 60)"))


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
        raise ValueError(_("how many gatherings there are, such as 12, 12 x 8 or 8 8 6"))
    return Listed(tuple({"number": at, "leafCount": leaves} for at, leaves in enumerate(counts, 1)))


def _gatherings(many: int, leaves: int | None) -> Listed:
    if not 1 <= many <= _MOST_GATHERINGS:
        raise ValueError(_("1 to {most} gatherings").format(most=_MOST_GATHERINGS))
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
            raise ValueError(_("stages such as 1 bound 1510~; 2 as received 2024"))
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
    expected = _("a kind of stage before the date. Near terms: {terms}.")
    raise ValueError(expected.format(terms=", ".join(near)))
