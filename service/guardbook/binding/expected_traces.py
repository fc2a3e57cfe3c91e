"""Which traces a binding should have left on its cover, and how near to these a trace lies.

The rules are common practice, no published source: sewing and lacing holes lie at the height of a sewing
station, lacing holes at the spine edges or laced on from there, folds at the spine edges (half the width of
the spine from its middle) and at the edges of the closed volume.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from guardbook.binding.scene_parts import Point, SceneFeature, SceneItem, SceneStation
from guardbook.wording import _, decimal

# how far off a trace may lie and still be the one expected
HOLE_MM = 3.0
FOLD_MM = 3.0
EDGE_MM = 5.0
# how far past the spine edge a slip is laced on through a second hole
LACED_ON_MM = 20.0
UPRIGHT_MM = 3.0

SEWN = frozenset({"sewing-hole", "tacket-hole", "hole", "other-hole"})
LACED = frozenset({"lacing-hole", "tacket-hole", "hole", "other-hole"})
FASTENED = frozenset({"fastening-hole", "hole", "other-hole"})
FASTENERS = frozenset({"fastening-toggle", "tie", "strap", "strap-lining"})
FOLDS = frozenset({"fold", "crease"})
EDGES = frozenset({"edge", "cut-edge", "torn-edge", "original-edge"})
# what one piece leaves on another, and how much of the two must be the same area
LEFT_BY_PIECES = frozenset({"impression", "adhesive-residue", "stain", "offset"})
SAME_AREA = 0.6
# the traces that a binding leaves; others are judged where a use is stated for them, or something fits
LEFT_BY_BINDING = SEWN | LACED | FASTENED | FOLDS | {"cut-edge", "nail-hole", "impression"}


@dataclass(frozen=True, kw_only=True)
class Expected:
    """What a volume at a stage is expected to have left on a plane, in mm there; None where not known.

    `joints_seen` says that half the spine was taken from folds of the cover, which then prove nothing.
    """

    half_spine: float | None = None
    tail: float | None = None
    head: float | None = None
    fore_edge: float | None = None
    stations: tuple[SceneStation, ...] = ()
    pieces: tuple[SceneItem, ...] = ()
    joints_seen: bool = False


@dataclass(frozen=True)
class Match:
    """What a trace lies at, in words, and how far off it lies in mm."""

    words: str
    off_mm: float


def matches(trace: SceneFeature, expected: Expected, holes: Sequence[Point]) -> tuple[Match, ...]:
    """Give everything expected that a trace lies at; `holes` are all holes of the piece on that plane."""
    if len(trace.points) == 1:
        return tuple(_holes(trace, expected, holes))
    if len(trace.points) == 2 and trace.kind in FOLDS | EDGES:
        return tuple(_lines(trace, expected))
    return tuple(_areas(trace, expected)) if trace.kind in LEFT_BY_PIECES else ()


def _holes(trace: SceneFeature, expected: Expected, holes: Sequence[Point]) -> Iterator[Match]:
    x, y = trace.points[0]
    half = expected.half_spine
    station = min(expected.stations, key=lambda one: abs(one.y - y), default=None)
    if station and half is not None and abs(station.y - y) <= HOLE_MM:
        off_y, off_x, past = abs(station.y - y), abs(abs(x) - half), abs(x) - half
        height = decimal(f"{station.y:.1f}")
        if trace.kind in LACED and off_x <= HOLE_MM:
            words = _("at the spine edge, at the station {height} mm from the tail")
            yield Match(words.format(height=height), math.hypot(off_x, off_y))
        elif trace.kind in SEWN and past <= 0:
            words = _("within the spine, at the station {height} mm from the tail")
            yield Match(words.format(height=height), off_y)
        elif trace.kind in LACED and HOLE_MM < past <= LACED_ON_MM and _starts_at_spine((x, y), holes, half):
            words = _("laced on {past} mm past the spine edge, at the station {height} mm from the tail")
            yield Match(words.format(past=decimal(f"{past:.1f}"), height=height), off_y)
    if trace.kind in FASTENED:
        yield from _fastened((x, y), expected.pieces)


def _starts_at_spine(point: Point, holes: Iterable[Point], half: float) -> bool:
    """Say whether another hole lies at the same height at the spine edge on the same side."""
    x, y = point
    return any(
        abs(other_y - y) <= HOLE_MM and other_x * x > 0 and abs(abs(other_x) - half) <= HOLE_MM
        for other_x, other_y in holes
    )


def _fastened(point: Point, pieces: Iterable[SceneItem]) -> Iterator[Match]:
    for item in pieces:
        if item.function in FASTENERS and item.outline is not None:
            off = float(item.outline.distance(shapely.Point(point)))
            if off <= HOLE_MM:
                yield Match(_("where {piece} is fastened").format(piece=item.name), off)


def _areas(trace: SceneFeature, expected: Expected) -> Iterator[Match]:
    """Give the pieces that lay just where a trace is; how far off, by the middles of the two."""
    area = shapely.Polygon(trace.points)
    for item in expected.pieces:
        if item.outline is not None and area.area > 0:
            shared = area.intersection(item.outline).area
            if shared >= SAME_AREA * (area.area + item.outline.area - shared):
                words = _("where {piece} lay").format(piece=item.name)
                yield Match(words, float(area.centroid.distance(item.outline.centroid)))


def _lines(trace: SceneFeature, expected: Expected) -> Iterator[Match]:
    (x, y), (to_x, to_y) = trace.points[0], trace.points[1]
    folded = trace.kind in FOLDS
    if abs(x - to_x) <= UPRIGHT_MM and abs(y - to_y) > UPRIGHT_MM:
        middle = abs(x + to_x) / 2
        if trace.kind in FOLDS and not expected.joints_seen:
            yield from _near(middle, expected.half_spine, FOLD_MM, _("folded at the spine edge"))
        words = _("folded at the fore-edge") if folded else _("ends at the fore-edge")
        yield from _near(middle, expected.fore_edge, EDGE_MM, words)
    elif abs(y - to_y) <= UPRIGHT_MM:
        middle = (y + to_y) / 2
        at_tail = _("folded at the tail edge") if folded else _("ends at the tail edge")
        at_head = _("folded at the head edge") if folded else _("ends at the head edge")
        yield from _near(middle, expected.tail, EDGE_MM, at_tail)
        yield from _near(middle, expected.head, EDGE_MM, at_head)


def _near(value: float, wanted: float | None, within: float, words: str) -> Iterator[Match]:
    if wanted is not None and abs(value - wanted) <= within:
        yield Match(words, abs(value - wanted))
