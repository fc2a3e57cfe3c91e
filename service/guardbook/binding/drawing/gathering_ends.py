"""Gatherings seen from their head end, folds downwards: their leaves, their guards, their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from guardbook.binding.drawing.lettering import text_mark
from guardbook.binding.drawing.pen import SWATCH_HEIGHT, SWATCH_WIDTH, Pen
from guardbook.binding.drawing.strokes import INK, LINES
from guardbook.binding.drawing.svg import Mark, Value, mark, number
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.wording import _, ngettext

# in text sizes: how long the arms of a leaf are drawn, and how many leaves at most one can tell apart
ARM = 3.4
_MOST_SHEETS = 6
OUTER = frozenset({"outer-guard"})


class LeafPiece(NamedTuple):
    """A piece on a leaf: its letter, and which leaf of its gathering that is, from 1."""

    item: SceneItem
    letter: str
    leaf: int


class _Fold(NamedTuple):
    """Where the fold of a gathering is on paper, how far its leaves open to each side, and the text size."""

    x: float
    y: float
    half: float
    unit: float


@dataclass(frozen=True)
class Gathered:
    """A gathering, what lies in its fold, what lay there and is gone, and what is on its leaves."""

    number: int
    leaf_count: int | None
    items: tuple[SceneItem, ...]
    gaps: tuple[SceneGap, ...]
    on_leaves: tuple[LeafPiece, ...]


def gathered(scene: Scene, letters: dict[str, str]) -> tuple[Gathered, ...]:
    """Give the gatherings of a volume from the front, those too that only a piece in their fold names."""
    counts = {one.number: one.leaf_count for one in scene.gatherings}
    folds = {plane.plane.gathering: plane for plane in scene.planes if plane.plane.gathering is not None}
    numbers = sorted({*counts, *filter(None, folds)})
    first = 1
    found = []
    for at in numbers:
        count, plane = counts.get(at), folds.get(at)
        last = first + count - 1 if count and first else 0
        pieces = tuple(_on_leaves(scene, first, last, letters)) if last else ()
        items, gaps = (plane.items, plane.gaps) if plane else ((), ())
        found.append(Gathered(at, count, items, gaps, pieces))
        first = last + 1 if last else 0
    return tuple(found)


def _on_leaves(scene: Scene, first: int, last: int, letters: dict[str, str]) -> Iterator[LeafPiece]:
    seen = set()
    for plane in scene.planes:
        leaf = plane.plane.leaf
        if leaf is not None and first <= leaf <= last:
            for item in plane.items:
                if (item.piece, leaf) not in seen:
                    seen.add((item.piece, leaf))
                    yield LeafPiece(item, letters[item.piece], leaf - first + 1)


def end_marks(pen: Pen, one: Gathered, x: float, y: float, wide: float) -> Iterator[Mark]:
    """Draw a gathering about x, its fold at y, in a column `wide` mm wide."""
    unit, half = pen.unit, wide * 0.4
    top = y - ARM * unit
    sheets = _sheets(one.leaf_count)
    fold = _Fold(x, y, half, unit)
    yield mark("path", d=_leaves(one.leaf_count, sheets, fold), fill="none", **_thin(pen))
    pen.use("leaf", _("leaves, seen from their head ends"), _sample(pen))
    for item in one.items:
        yield _guard(pen, item.function, sheets, fold)
    yield text_mark(x, y + 1.7 * unit, str(one.number), 0.9 * unit, text_anchor="middle", font_weight="bold")
    count = "?" if one.leaf_count is None else _("{count} lvs").format(count=one.leaf_count)
    if wide > 2.6 * unit:
        yield text_mark(x, top - 0.5 * unit, count, 0.68 * unit, text_anchor="middle")
    for piece in one.on_leaves:
        at = x + _spread(piece.leaf, one.leaf_count or 0) * half
        yield pen.letter_alone(piece.letter, at, top - 1.9 * unit, size=0.8)
        yield mark("path", d=f"M{number(at)} {number(top - 1.3 * unit)}V{number(top)}", **_thin(pen))


def _thin(pen: Pen) -> dict[str, str | float | None]:
    return LINES["leader"].attributes(pen.unit)


def _sheets(count: int | None) -> int:
    """Give how many folded sheets are drawn."""
    return max(1, min(_MOST_SHEETS, (count or 2) // 2))


def _spread(leaf: int, count: int) -> float:
    """Give where a leaf ends, from -1 for the first to 1 for the last."""
    return 0.0 if count < 2 else (leaf - 1) / (count - 1) * 2 - 1


def _leaves(count: int | None, sheets: int, fold: _Fold) -> str:
    top = fold.y - ARM * fold.unit
    paths = []
    for at in range(sheets):
        out = fold.half * (sheets - at) / sheets
        paths.append(_vee(fold.x, fold.y - at * 0.22 * fold.unit, out, top))
    if count and count % 2:
        low = fold.y - sheets * 0.22 * fold.unit
        paths.append(f"M{number(fold.x)} {number(top)}V{number(low)}")
    return "".join(paths)


def _vee(x: float, low: float, out: float, top: float) -> str:
    return f"M{number(x - out)} {number(top)}L{number(x)} {number(low)}L{number(x + out)} {number(top)}"


def _guard(pen: Pen, function: str | None, sheets: int, fold: _Fold) -> Mark:
    """Draw a guard as a short thick fold inside or round the leaves."""
    unit, outside = fold.unit, function in OUTER
    low = fold.y + 0.28 * unit if outside else fold.y - (sheets * 0.22 + 0.15) * unit
    out, high = (fold.half * 0.5, 1.7) if outside else (fold.half * 0.12, 1.5)
    words = _("guard round the gathering") if outside else _("guard in the fold")
    pen.use(f"guard {outside}", words, _guard_sample(pen, outside=outside))
    return mark("path", d=_vee(fold.x, low, out, low - high * unit), **_thick(unit))


def _thick(unit: float) -> dict[str, Value]:
    return {"fill": "none", "stroke": INK, "stroke_width": 0.28 * unit}


def _guard_sample(pen: Pen, *, outside: bool) -> Mark:
    unit, up = pen.unit, SWATCH_HEIGHT / 2 * pen.unit
    leaf, guard = (0.55, 0.8) if outside else (1.1, 0.4)
    lift = 0.25 * unit
    thin = _vee(0, up - lift if outside else up, leaf * unit, -up)
    thick = _vee(0, up if outside else up - lift, guard * unit * 0.6, -0.2 * unit)
    return mark(
        "g",
        mark("path", d=thin, fill="none", **_thin(pen)),
        mark("path", d=thick, **_thick(unit)),
    )


def _sample(pen: Pen) -> Mark:
    wide, up = SWATCH_WIDTH / 3 * pen.unit, SWATCH_HEIGHT / 2 * pen.unit
    lines = "".join(
        f"M{number(-wide * part)} {number(-up)}L0 {number(up * part)}L{number(wide * part)} {number(-up)}"
        for part in (1.0, 0.6)
    )
    return mark("path", d=lines, fill="none", **_thin(pen))


def numbers_told(all_of: Sequence[Gathered]) -> str:
    """Say how many gatherings there are, and how many leaves as far as these are known."""
    counts = [one.leaf_count for one in all_of]
    known = [count for count in counts if count is not None]
    if len(known) < len(counts):
        return ngettext(
            "{count} gathering, not all of their leaves are counted.",
            "{count} gatherings, not all of their leaves are counted.",
            len(all_of),
        ).format(count=len(all_of))
    return ngettext("{count} gathering, {leaves}.", "{count} gatherings, {leaves}.", len(all_of)).format(
        count=len(all_of), leaves=leaves_words(sum(known))
    )


def leaves_words(count: int | None) -> str:
    """Say how many leaves a gathering has."""
    if count is None:
        return _("leaves not counted")
    return ngettext("{count} leaf", "{count} leaves", count).format(count=count)
