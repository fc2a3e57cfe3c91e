"""Signs in the size, folds, edges and fastenings of a cover."""

from __future__ import annotations

import shapely

from guardbook.binding.expected_traces import FASTENERS, HOLE_MM
from guardbook.binding.scene_parts import SceneFeature, SceneFold
from guardbook.evidence.searched import how_to_answer, none_but_recorded
from guardbook.evidence.signs import Sign, either, unknown
from guardbook.evidence.subjects import Binding, Side
from guardbook.wording import _, decimal, ngettext

_STRAIGHT_MM = 3.0


def spine_narrower(binding: Binding, least_mm: float) -> Sign:
    """See whether the cover's spine, between its joints, is narrower than the text block."""
    joints = sorted(fold.points[0][0] for fold in _folds(binding, "joint") if fold.seen)
    spine = joints[-1] - joints[0] if len(joints) > 1 else float(binding.host.spine_width or 0)
    thickness = binding.host.thickness
    if not spine or thickness is None:
        return unknown(_("Measure the cover's spine between its joints, and the text block at the spine."))
    told = _("the cover's spine is {spine} mm wide, the text block {thickness} mm thick").format(
        spine=decimal(f"{spine:.1f}"), thickness=decimal(f"{thickness:.1f}")
    )
    return either(there=float(thickness) - spine >= least_mm, yes=told, no=told)


def shorter(binding: Binding, least_mm: float) -> Sign:
    """See whether the closed cover is shorter than the leaves of the text block."""
    height = binding.host.height
    if binding.cover is None or binding.cover.outline is None or height is None:
        return unknown(_("Measure the height of the closed cover and of the leaves."))
    bottom, top = binding.cover.outline.bounds[1::2]
    middle = (bottom + top) / 2
    level = [fold.points[0][1] for fold in _folds(binding, "turn-in") if _is_level(fold)]
    tail = max((y for y in level if y < middle), default=bottom)
    head = min((y for y in level if y > middle), default=top)
    told = _("the closed cover is {cover} mm high, the leaves {leaves} mm").format(
        cover=decimal(f"{head - tail:.1f}"), leaves=decimal(f"{height:.1f}")
    )
    return either(there=float(height) - (head - tail) >= least_mm, yes=told, no=told)


def folds_without_purpose(binding: Binding) -> Sign:
    """See whether the cover has folds that are no joint, turn-in or flap of the present binding."""
    if binding.cover is None:
        return unknown(_no_cover())
    seen_folds = [fold for fold in binding.cover.folds if fold.seen]
    if not seen_folds:
        return unknown(_("Record the folds of the cover."))
    idle = [fold for fold in seen_folds if fold.kind == "fold"]
    return either(
        there=bool(idle),
        yes=_("{idle} of the {count} folds of the cover serve no present purpose").format(
            idle=len(idle), count=len(seen_folds)
        ),
        no=_("every fold of the cover serves the present binding"),
        traces=tuple(fold.feature for fold in idle or seen_folds if fold.feature),
    )


def edge_without_turn_in(side: Side) -> Sign:
    """See whether a cover has no turn-in at its fore-edge, where other edges have one, and is cut there."""
    sign = no_fore_edge_turn_in(side)
    if not sign.is_seen:
        return sign
    cut = [trace for trace in _on_side(side, {"cut-edge"}) if _runs_up(trace)]
    edge = _fore_edge(side)
    there = [
        trace for trace in cut if edge is not None and abs(abs(trace.points[0][0]) - edge) <= _STRAIGHT_MM
    ]
    if not there and not _on_side(side, {"torn-edge", "original-edge"}):
        told = _("Say of the fore-edge of {cover} whether it is cut, torn or as it was made.")
        return unknown(told.format(cover=_the(side)))
    return either(
        there=bool(there),
        yes=_("no turn-in at the fore-edge of {cover}, though other edges have one, and a cut edge").format(
            cover=_the(side)
        ),
        no=_("the fore-edge of {cover} is not cut").format(cover=_the(side)),
        traces=tuple(trace.id for trace in there),
    )


def no_fore_edge_turn_in(side: Side) -> Sign:
    """See whether a cover has no turn-in at its fore-edge, where other edges have one."""
    turn_ins = [fold for fold in _folds(side.binding, "turn-in") if fold.seen]
    if not turn_ins:
        return unknown(_("Record the turn-ins of the cover, edge by edge."))
    here = [fold for fold in turn_ins if not _is_level(fold) and _is_on(side, fold.points[0][0])]
    if not here and not _searched(side):
        told = _("Say of {cover} whether it has a turn-in at its fore-edge; {answer}")
        return unknown(told.format(cover=_the(side), answer=how_to_answer()))
    return either(
        there=not here,
        yes=_("no turn-in at the fore-edge of {cover}, though other edges have one").format(cover=_the(side)),
        no=_("{cover} has a turn-in at its fore-edge").format(cover=_the(side)),
        traces=tuple(fold.feature for fold in here if fold.feature),
    )


def no_tackets(side: Side) -> Sign:
    """See whether there are no tackets and no tacket holes on a cover."""
    if side.binding.cover is None or not side.binding.cover.features:
        return unknown(_no_cover())
    holes = _on_side(side, {"tacket-hole"})
    items = side.binding.plane.items if side.binding.plane else ()
    tackets = [
        item
        for item in items
        if item.function == "tacket" and item.outline is not None and _is_on(side, item.outline.centroid.x)
    ]
    if not holes and not tackets and not _searched(side):
        told = _("Say of {cover} whether it has tackets or tacket holes; {answer}")
        return unknown(told.format(cover=_the(side), answer=how_to_answer()))
    return either(
        there=not holes and not tackets,
        yes=_("no tackets and no tacket holes on {cover}").format(cover=_the(side)),
        no=_("tackets or tacket holes on {cover}").format(cover=_the(side)),
        traces=tuple(trace.id for trace in holes),
    )


def other_narrower(side: Side, least_mm: float) -> Sign:
    """See whether the other cover is narrower, from the spine to its fore-edge or fore-edge fold."""
    here, there = _width(side), _width(side.other)
    # where no turn-in is recorded, a fore-edge may be that of a turn-in laid flat
    turn_ins = any(fold.seen for fold in _folds(side.binding, "turn-in"))
    if here is None or there is None or not turn_ins:
        return unknown(_("Measure the width of both covers, from the spine to the fore-edge."))
    told = _("{cover} is {there} mm wide, {other} {here} mm").format(
        cover=_the(side.other), there=decimal(f"{there:.1f}"), other=_the(side), here=decimal(f"{here:.1f}")
    )
    return either(there=here - there >= least_mm, yes=told, no=told)


def fastening_holes_on_other(side: Side) -> Sign:
    """See whether the other cover has fastening holes."""
    if side.binding.cover is None or not side.binding.cover.features:
        return unknown(_no_cover())
    holes = _on_side(side.other, {"fastening-hole"})
    return either(
        there=bool(holes),
        yes=_fastening_holes(len(holes), side.other),
        no=_("no fastening holes on {cover}").format(cover=_the(side.other)),
        traces=tuple(trace.id for trace in holes),
    )


def fastening_without_counterpart(side: Side) -> Sign:
    """See whether a cover has fastening holes with no fastening in them and none to meet on the other."""
    if side.binding.cover is None or not side.binding.cover.features:
        return unknown(_no_cover())
    holes = [trace for trace in _on_side(side, {"fastening-hole"}) if not _has_fastening(side, trace)]
    facing = _on_side(side.other, {"fastening-hole"})
    return either(
        there=bool(holes) and not facing,
        yes=_("{holes}, nothing in them and none on {other}").format(
            holes=_fastening_holes(len(holes), side), other=_the(side.other)
        ),
        no=_("no fastening hole of {cover} lacks its counterpart").format(cover=_the(side)),
        traces=tuple(trace.id for trace in holes),
    )


def _has_fastening(side: Side, trace: SceneFeature) -> bool:
    items = side.binding.plane.items if side.binding.plane else ()
    return any(
        item.function in FASTENERS
        and item.outline is not None
        and item.outline.buffer(HOLE_MM).intersects(shapely.Point(trace.points[0]))
        for item in items
    )


def _folds(binding: Binding, kind: str) -> list[SceneFold]:
    return [fold for fold in binding.cover.folds if fold.kind == kind] if binding.cover else []


def _on_side(side: Side, kinds: set[str]) -> list[SceneFeature]:
    traces = side.binding.cover.features if side.binding.cover else ()
    return [t for t in traces if t.kind in kinds and all(_is_on(side, x) for x, _ in t.points)]


def _is_on(side: Side, x: float) -> bool:
    return x > 0 if side.side == "upper" else x < 0


def _is_level(fold: SceneFold) -> bool:
    (x, y), (to_x, to_y) = fold.points
    return abs(y - to_y) < abs(x - to_x)


def _runs_up(trace: SceneFeature) -> bool:
    return len(trace.points) == 2 and abs(trace.points[0][0] - trace.points[1][0]) <= _STRAIGHT_MM


def _fore_edge(side: Side) -> float | None:
    outline = side.binding.cover.outline if side.binding.cover else None
    return (
        None if outline is None else float(outline.bounds[2] if side.side == "upper" else -outline.bounds[0])
    )


def _width(side: Side) -> float | None:
    """Give the width of a cover from the edge of the spine to its fore-edge or the fold there."""
    edge, spine = _fore_edge(side), side.binding.host.spine_width
    if edge is None or spine is None:
        return None
    folds = [
        abs(fold.points[0][0])
        for fold in _folds(side.binding, "turn-in")
        if not _is_level(fold) and _is_on(side, fold.points[0][0])
    ]
    return min([edge, *folds]) - float(spine) / 2


def _the(side: Side) -> str:
    return _("the upper cover") if side.side == "upper" else _("the lower cover")


def _fastening_holes(count: int, side: Side) -> str:
    told = ngettext("{count} fastening hole on {cover}", "{count} fastening holes on {cover}", count)
    return told.format(count=count, cover=_the(side))


def _searched(side: Side) -> bool:
    """Say whether the whole cover was looked over, so that what is not recorded is not there."""
    cover = side.binding.cover
    piece = side.binding.dossier.piece(cover.piece) if cover else None
    return none_but_recorded(piece, "features") is not None


def _no_cover() -> str:
    return _("Record the cover: its outline, folds, edges and holes.")
