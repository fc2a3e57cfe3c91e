"""What of a leaf is known and what is missing, and pieces that cannot both have been cut where they say."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.leaf_parts import LeafOverlap, LeafPiece
from guardbook.wording import _, decimal

# a gap that no strip of this width fits into is where two pieces met
MEETING_MM = 1.0
# two pieces overlap where a disc of this width fits into what they share
OVERLAP_MM = 2.0


def missing_parts(
    leaf: BaseGeometry, outlines: Sequence[BaseGeometry]
) -> tuple[tuple[BaseGeometry, ...], float]:
    """Give the parts of a leaf of which no piece is known, the largest first, and the share known."""
    if leaf.area == 0:
        return (), 0.0
    known = shapely.unary_union(list(outlines)).intersection(leaf)
    left = shapely.get_parts(leaf.difference(known)).tolist()
    parts = [part for part in left if not part.buffer(-MEETING_MM / 2).is_empty]
    return tuple(sorted(parts, key=lambda part: (-part.area, part.bounds))), float(known.area / leaf.area)


def overlaps_of(pieces: Sequence[LeafPiece]) -> tuple[LeafOverlap, ...]:
    """Tell of pieces that claim the same part of one leaf: one of the two is placed wrongly."""
    placed = [(piece, piece.outline) for piece in pieces if piece.outline is not None]
    if len(placed) < 2:
        return ()
    outlines = [outline for _, outline in placed]
    first, second = shapely.STRtree(outlines).query(outlines, predicate="intersects")
    pairs = sorted((one, two) for one, two in zip(first.tolist(), second.tolist(), strict=True) if one < two)
    found = []
    for one, two in pairs:
        shared = outlines[one].intersection(outlines[two])
        if placed[one][0].piece != placed[two][0].piece and not shared.buffer(-OVERLAP_MM / 2).is_empty:
            found.append(_overlap(placed[one][0], placed[two][0], shared))
    return tuple(found)


def _overlap(one: LeafPiece, two: LeafPiece, shared: BaseGeometry) -> LeafOverlap:
    left, bottom, right, top = shared.bounds
    return LeafOverlap(
        piece=one.piece,
        other=two.piece,
        area_mm2=float(shared.area),
        words=_(
            "{piece} and {other} claim the same {width} x {height} mm of the leaf. Measure their places "
            "again, or say that they are of two leaves."
        ).format(
            piece=one.name,
            other=two.name,
            width=decimal(f"{right - left:.1f}"),
            height=decimal(f"{top - bottom:.1f}"),
        ),
    )
