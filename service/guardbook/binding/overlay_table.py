"""The table beside two bindings laid over each other: each trace with the use that accounts for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from guardbook.binding.overlay_parts import OverlayFeature, OverlayRow, OverlaySide
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import Point
from guardbook.records import terms

_ORDER = ("a", "both", "b", "neither")


def rows_of(judged: Iterable[OverlayFeature], sides: Sequence[OverlaySide]) -> tuple[OverlayRow, ...]:
    """Give the rows of the table: those of the first use, of both, of the second, of neither; by series."""
    ordered = sorted(judged, key=lambda one: (_ORDER.index(one.accounted), one.feature.series or "~"))
    return tuple(_row(one, sides) for one in ordered)


def _row(one: OverlayFeature, sides: Sequence[OverlaySide]) -> OverlayRow:
    trace = one.feature
    use_a, use_b = (_reasons(one, side) for side in sides)
    return OverlayRow(
        feature=trace.id,
        what=terms.label("feature", trace.kind),
        where=_where(trace.points, sides[0].plane),
        series=(trace.series or "").rpartition("#")[2],
        use_a=use_a,
        use_b=use_b,
        accounted=_accounted(one, sides),
    )


def _reasons(one: OverlayFeature, side: OverlaySide) -> str:
    """Say why a trace may belong to a side: what the record states, and what it lies at."""
    stated = ["stated in the record"] if side.key in one.stated else []
    fits = [f"{fit.words} ({fit.off_mm:.1f} mm off)" for fit in one.fits if fit.side == side.key]
    return "; ".join([*stated, *fits])


def _accounted(one: OverlayFeature, sides: Sequence[OverlaySide]) -> str:
    names = {side.key: f"{side.name}, stage {side.stage}" for side in sides}
    told = {"both": "both", "neither": "neither"}.get(one.accounted) or names[one.accounted]
    return f"{told} (by measure it fits the other)" if one.disagrees else told


def _where(points: Sequence[Point], plane: PlaneName) -> str:
    """Say where a trace lies: a line from end to end, an area by two of its corners."""
    ends = points if len(points) < 3 else points[::2]
    heights = dict.fromkeys(_height(y) for _, y in ends)
    across = dict.fromkeys(_across(x, plane) for x, _ in ends)
    return ", ".join(" to ".join(said) for said in (heights, across))


def _height(y: float) -> str:
    return f"{y:.1f} mm from the tail" if y >= 0 else f"{-y:.1f} mm below the tail"


def _across(x: float, plane: PlaneName) -> str:
    axes = plane.axes
    towards = "" if not axes.centred else f" towards {axes.x_towards if x >= 0 else axes.x_away}"
    return f"{abs(x):.1f} mm from {axes.x_zero}{towards}"
