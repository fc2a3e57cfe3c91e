"""The table beside two bindings laid over each other: each trace with the use that accounts for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from guardbook.binding.overlay_parts import OverlayFeature, OverlayRow, OverlaySide
from guardbook.binding.plane_phrases import from_zero, towards
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import Point
from guardbook.records import terms
from guardbook.wording import _, decimal

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
        accounted=_accounted(one),
    )


def _reasons(one: OverlayFeature, side: OverlaySide) -> str:
    """Say why a trace may belong to a side: what the record states, and what it lies at."""
    stated = [_("stated in the record")] if side.key in one.stated else []
    fits = [
        _("{place} ({distance} mm off)").format(place=fit.words, distance=decimal(f"{fit.off_mm:.1f}"))
        for fit in one.fits
        if fit.side == side.key
    ]
    return "; ".join([*stated, *fits])


def _accounted(one: OverlayFeature) -> str:
    """Name the uses by the letters that the drawing and the columns have: short, to be read at a glance."""
    told = {"both": _("both"), "neither": _("neither")}.get(one.accounted, one.accounted.upper())
    return _("{use} (by measure it fits the other)").format(use=told) if one.disagrees else told


def _where(points: Sequence[Point], plane: PlaneName) -> str:
    """Say where a trace lies: a line from end to end, an area by two of its corners."""
    ends = points if len(points) < 3 else points[::2]
    heights = dict.fromkeys(_height(y) for _x, y in ends)
    across = dict.fromkeys(_across(x, plane) for x, _y in ends)
    return ", ".join(_(" to ").join(said) for said in (heights, across))


def _height(y: float) -> str:
    said = _("{length} mm from the tail") if y >= 0 else _("{length} mm below the tail")
    return said.format(length=decimal(f"{abs(y):.1f}"))


def _across(x: float, plane: PlaneName) -> str:
    axes = plane.axes
    told = _("{length} mm {from_zero}").format(
        length=decimal(f"{abs(x):.1f}"), from_zero=from_zero(axes.x_zero)
    )
    if not axes.centred:
        return told
    side = axes.x_towards if x >= 0 else axes.x_away
    return _("{distance} {towards}").format(distance=told, towards=towards(side))
