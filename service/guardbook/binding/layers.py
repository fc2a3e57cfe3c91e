"""In which order the pieces on a plane are seen, from the farthest to the nearest, and which lie on which."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import shapely

from guardbook.binding.neighbours import OVERLAP_MM2
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import SceneItem


def stacked(items: Sequence[SceneItem], plane: PlaneName) -> tuple[SceneItem, ...]:
    """Put pieces in the order to draw them in, and tell each what lies over and under it."""
    ordered = sorted(items, key=lambda item: _depth(item, plane))
    measured = [item for item in ordered if item.measured and item.outline is not None]
    relations: dict[str, dict[int, set[str]]] = {
        name: defaultdict(set) for name in ("over", "under", "overlapping")
    }
    for one, two in _overlapping(measured):
        nearer = _nearer(one, two, plane)
        relations[{None: "overlapping", True: "under", False: "over"}[nearer]][id(one)].add(two.piece)
        relations[{None: "overlapping", True: "over", False: "under"}[nearer]][id(two)].add(one.piece)
    return tuple(_told(item, relations) for item in ordered)


def _told(item: SceneItem, relations: dict[str, dict[int, set[str]]]) -> SceneItem:
    over, under, overlapping = (tuple(sorted(near.get(id(item), ()))) for near in relations.values())
    if not (over or under or overlapping):
        return item
    return replace(item, over=over, under=under, overlapping=overlapping)


def _depth(item: SceneItem, plane: PlaneName) -> tuple[object, ...]:
    """Put a cover seen from its back farthest, a piece without a layer nearest, small ones on large."""
    outwards = 1 if plane.axes.outwards_is_nearer else -1
    layer = (item.layer or 0) * outwards
    area = item.outline.area if item.outline is not None else 0.0
    unknown = item.layer is None and not item.is_sheet
    return not item.from_other_face, unknown, layer, not item.is_sheet, -area, item.piece, item.position or ""


def _overlapping(items: list[SceneItem]) -> list[tuple[SceneItem, SceneItem]]:
    """Give the pairs of different pieces that share more than an edge."""
    outlines = [item.outline for item in items if item.outline is not None]
    if len(outlines) < 2:
        return []
    first, second = shapely.STRtree(outlines).query(outlines, predicate="intersects")
    pairs = [
        (one, two)
        for one, two in zip(first.tolist(), second.tolist(), strict=True)
        if one < two and items[one].piece != items[two].piece
    ]
    pairs.sort()
    shared = shapely.area(
        shapely.intersection([outlines[one] for one, _ in pairs], [outlines[two] for _, two in pairs])
    )
    return [
        (items[one], items[two])
        for (one, two), area in zip(pairs, shared.tolist(), strict=True)
        if area > OVERLAP_MM2
    ]


def _nearer(one: SceneItem, two: SceneItem, plane: PlaneName) -> bool | None:
    """Say whether the first of two lies nearer to the viewer; None where that is not known."""
    if one.from_other_face != two.from_other_face:
        return two.from_other_face
    if one.layer is None or two.layer is None or one.layer == two.layer:
        return None
    return (one.layer > two.layer) == plane.axes.outwards_is_nearer
