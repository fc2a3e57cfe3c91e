"""Rows of holes along the spine of a cover, and whether two of them are as far apart as a spine is wide.

Two rows of aligned holes as far apart as a spine is wide show that the cover held a book of that spine; if it
is not the present one, another book, or the same one before it was sewn again (common practice, no published
source).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from statistics import fmean

from guardbook.binding.overlay_parts import RowPair
from guardbook.binding.scene_parts import Point, SceneFeature
from guardbook.wording import _, decimal

ROW_KINDS = frozenset({"sewing-hole", "lacing-hole", "tacket-hole"})
# holes within this of each other across the spine are in one row, along it at the same height
IN_ROW_MM = 3.0
# a spine is as wide as two rows are apart within this
SPINE_MM = 3.0

Row = list[SceneFeature]


def row_pairs(traces: Iterable[SceneFeature], spines: Mapping[str, tuple[str, float]]) -> tuple[RowPair, ...]:
    """Give the pairs of rows of each series; `spines` are the name and width in mm of each side's spine.

    Of several rows in one series those as far apart as a spine is wide are told, else the two innermost.
    """
    series: dict[str | None, list[SceneFeature]] = defaultdict(list)
    for trace in traces:
        if trace.kind in ROW_KINDS and len(trace.points) == 1:
            series[trace.series].append(trace)
    return tuple(
        pair for key in sorted(series, key=lambda key: key or "") for pair in _pairs(series[key], spines)
    )


def _pairs(holes: Row, spines: Mapping[str, tuple[str, float]]) -> Iterator[RowPair]:
    aligned = [(one, two) for one, two in combinations(_rows(holes), 2) if _aligned(one, two)]
    pairs = [_pair(one, two, spines) for one, two in aligned]
    fitting = [pair for pair in pairs if pair.as_wide_as]
    yield from fitting or sorted(pairs, key=lambda pair: pair.apart_mm)[:1]


def _rows(holes: Row) -> list[Row]:
    """Gather holes into rows along the spine; one hole alone is no row."""
    ordered = sorted(holes, key=lambda hole: hole.points[0])
    rows: list[Row] = [[hole] for hole in ordered[:1]]
    for before, hole in pairwise(ordered):
        if hole.points[0][0] - before.points[0][0] <= IN_ROW_MM:
            rows[-1].append(hole)
        else:
            rows.append([hole])
    return [sorted(row, key=_height) for row in rows if len(row) > 1]


def _height(hole: SceneFeature) -> float:
    return hole.points[0][1]


def _aligned(one: Row, two: Row) -> bool:
    """Say whether two holes or more, and half of the shorter row, are at the same heights as in the other."""
    same = sum(any(abs(_height(a) - _height(b)) <= IN_ROW_MM for b in two) for a in one)
    return same >= 2 and same * 2 >= min(len(one), len(two))


def _pair(one: Row, two: Row, spines: Mapping[str, tuple[str, float]]) -> RowPair:
    apart = _middle(two) - _middle(one)
    fits = tuple(side for side, (_, width) in spines.items() if abs(width - apart) <= SPINE_MM)
    return RowPair(
        rows=(_ends(one), _ends(two)),
        holes=(len(one), len(two)),
        apart_mm=apart,
        features=tuple(hole.id for hole in (*one, *two)),
        as_wide_as=fits,
        words=_words(len(one), len(two), apart, [spines[side] for side in fits]),
    )


def _middle(row: Row) -> float:
    return fmean(hole.points[0][0] for hole in row)


def _ends(row: Row) -> tuple[Point, Point]:
    return row[0].points[0], row[-1].points[0]


def _words(one: int, two: int, apart: float, spines: Sequence[tuple[str, float]]) -> str:
    if one == two:
        counted = _("Two rows of {count} holes, {apart} mm apart")
    else:
        counted = _("Two rows of {count} and {other} holes, {apart} mm apart")
    rows = counted.format(count=one, other=two, apart=decimal(f"{apart:.1f}"))
    if not spines:
        alone = _(
            "{rows}: as wide as neither spine. A third use, or a spine of another width, would explain them."
        )
        return alone.format(rows=rows)
    wide = _(" and ").join(
        _("the spine of {volume} ({width} mm)").format(volume=name, width=decimal(f"{width:.1f}"))
        for name, width in dict.fromkeys(spines)
    )
    return _("{rows}: as wide as {spines}.").format(rows=rows, spines=wide)
