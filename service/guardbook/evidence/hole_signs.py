"""Signs in the holes of a cover: rows that the present sewing does not use, and where the sewing sits."""

from __future__ import annotations

from collections.abc import Iterable
from statistics import fmean

import shapely

from guardbook.binding.expected_traces import HOLE_MM
from guardbook.binding.hole_rows import IN_ROW_MM, ROW_KINDS, row_pairs
from guardbook.binding.overlay_parts import RowPair
from guardbook.binding.scene_parts import SceneFeature
from guardbook.binding.stations_in_use import registration_at, stations_at
from guardbook.evidence.searched import none_but_recorded
from guardbook.evidence.signs import Sign, either, not_seen, seen, unknown
from guardbook.evidence.subjects import Binding
from guardbook.wording import _, decimal, decimals

# how far the cover may lie higher or lower on the text block than is recorded
SHIFT_MM = 15.0


def unused_rows(binding: Binding, least: int) -> Sign:
    """See whether two rows in the cover's spine, aligned at `least` heights or more, are not used now."""
    return _rows_left(binding, [pair for pair in _unused(binding) if _aligned(binding, pair) >= least])


def few_unused_holes(binding: Binding, below: int) -> Sign:
    """See whether two such rows, aligned at fewer heights than `below`, are all that is not used now."""
    unused = _unused(binding)
    many = any(_aligned(binding, pair) >= below for pair in unused)
    return _rows_left(binding, [] if many else unused)


def _rows_left(binding: Binding, unused: list[RowPair]) -> Sign:
    if missing := _not_told(binding):
        return unknown(missing)
    words = "; ".join(_rows_words(pair) for pair in unused)
    return either(
        there=bool(unused),
        yes=_("{rows}; the present sewing ({heights} mm from the tail) does not use them").format(
            rows=words, heights=_heights(_present(binding))
        ),
        no=_("no rows of holes along the spine but those that the present sewing uses"),
        traces=_traces(unused),
    )


def _not_told(binding: Binding) -> str | None:
    """Say what to record before old holes can be told from new."""
    if binding.cover is None:
        return _("Record the cover with its holes, series by series.")
    if not _holes(binding):
        return _("Record the holes along the spine of the cover, or that there are none.")
    if not stations_at(binding.host, binding.scene.stage):
        return _("Record the sewing stations of the text block, so that old holes can be told from new.")
    if not _present(binding):
        return _(
            "Measure how the cover lies on the text block (its registration), so that the sewing stations"
            " can be found on the cover and old holes told from new."
        )
    return None


def rows_as_wide_as_text_block(binding: Binding, within_mm: float) -> Sign:
    """See whether such rows are as far apart as the present text block is thick."""
    thickness = binding.host.thickness or binding.host.spine_width
    unused = _unused(binding)
    if not unused:
        return unknown(_("Record the holes along the spine of the cover."))
    if thickness is None:
        return unknown(_("Measure the thickness of the text block at the spine."))
    apart = decimals(f"{pair.apart_mm:.1f}" for pair in unused)
    told = _("the old rows are {apart} mm apart, the present text block is {thickness} mm thick").format(
        apart=apart, thickness=decimal(f"{thickness:.1f}")
    )
    near = [pair for pair in unused if abs(pair.apart_mm - float(thickness)) <= within_mm]
    return either(there=bool(near), yes=told, no=told, traces=_traces(near or unused))


def former_sewing_there(binding: Binding) -> Sign:
    """See whether the text block itself was once sewn at the heights of such rows.

    That no old station is recorded does not say that there is none: only a search of the folds does.
    """
    unused = _unused(binding)
    own = [pair for pair in unused if _made_in_this_volume(binding, pair)]
    if own:
        return seen(_("their series are recorded as made in this volume, in an earlier use"), _traces(own))
    present = {station.id for station in stations_at(binding.host, binding.scene.stage)}
    former = [float(station.y) for station in binding.host.stations if station.id not in present]
    for pair in unused:
        if former and _fall_together(_row_heights(binding, pair), former):
            told = _("the old rows fall together with former stations of this text block ({heights} mm)")
            return seen(told.format(heights=_heights(former)), pair.features)
    if former:
        told = _("the former stations of this text block ({heights} mm) lie elsewhere")
        return not_seen(told.format(heights=_heights(former)))
    if answer := none_but_recorded(binding.host, "stations"):
        told = _("the text block was searched for older stations, and none were found: {reason}")
        return not_seen(told.format(reason=answer))
    return unknown(_("it is not recorded that the folds of the text block were searched for older holes"))


def sewing_off_centre(binding: Binding, least_mm: float) -> Sign:
    """See whether the sewing sits off the middle of the cover's spine."""
    used = _used(binding)
    registered = registration_at(binding.host, binding.scene.stage)
    if used:
        off = abs(fmean(x for row in used[0].rows for x, _ in row))
        traces = used[0].features
    elif registered:
        off, traces = abs(float(registered[0].dx)), ()
    else:
        return unknown(
            _("Measure where the sewing sits on the cover's spine, or how cover and text block register.")
        )
    told = _("the sewing sits {off} mm off the middle of the cover's spine").format(off=decimal(f"{off:.1f}"))
    return either(there=off >= least_mm, yes=told, no=told, traces=traces)


def _holes(binding: Binding) -> list[SceneFeature]:
    traces = binding.cover.features if binding.cover else ()
    return [trace for trace in traces if trace.kind in ROW_KINDS and len(trace.points) == 1]


def _pairs(binding: Binding, holes: Iterable[SceneFeature]) -> tuple[RowPair, ...]:
    spine = binding.host.spine_width
    return row_pairs(holes, {"now": (binding.host.display_title, float(spine))} if spine else {})


def _present(binding: Binding) -> list[float]:
    """Give the heights of the stations in use, on the cover."""
    return [station.y for station in binding.plane.stations] if binding.plane else []


def _at_stations(binding: Binding) -> list[SceneFeature]:
    """Give the holes at the height of a station in use."""
    present = _present(binding)
    return [hole for hole in _holes(binding) if any(abs(hole.points[0][1] - y) <= HOLE_MM for y in present)]


def _used(binding: Binding) -> list[RowPair]:
    """Give the rows at stations in use that are as far apart as the present spine is wide."""
    return [pair for pair in _pairs(binding, _at_stations(binding)) if pair.as_wide_as]


def _unused(binding: Binding) -> list[RowPair]:
    """Give the rows that are left without the holes of the present binding, whatever series they are in."""
    half = float(binding.host.spine_width or 0) / 2
    used = {name for pair in _used(binding) for name in pair.features}
    used |= {
        hole.id
        for hole in _at_stations(binding)
        if abs(hole.points[0][0]) <= half + HOLE_MM and hole.made != "earlier"
    }
    used |= {hole.id for hole in _holes(binding) if _is_of_this_binding(binding, hole)}
    rest = [hole for hole in _holes(binding) if hole.id not in used]
    return list(_pairs(binding, rest)) if _present(binding) else []


def _is_of_this_binding(binding: Binding, hole: SceneFeature) -> bool:
    """Say whether a hole is recorded as made for this volume as it is now, or a tacket sits in it."""
    if hole.use_host == binding.host.id and hole.made != "earlier":
        return True
    items = binding.plane.items if binding.plane else ()
    point = shapely.Point(hole.points[0])
    return any(
        item.outline.buffer(HOLE_MM).intersects(point)
        for item in items
        if item.function == "tacket" and item.measured and item.outline is not None
    )


def _made_in_this_volume(binding: Binding, pair: RowPair) -> bool:
    holes = [hole for hole in _holes(binding) if hole.id in pair.features]
    return all(hole.use_host == binding.host.id for hole in holes)


def _aligned(binding: Binding, pair: RowPair) -> int:
    """Count the holes of the one row that have one at the same height in the other."""
    heights = {hole.id: hole.points[0][1] for hole in _holes(binding)}
    one, two = pair.features[: pair.holes[0]], pair.features[pair.holes[0] :]
    return sum(any(abs(heights[a] - heights[b]) <= IN_ROW_MM for b in two) for a in one)


def _row_heights(binding: Binding, pair: RowPair) -> list[float]:
    traces: Iterable[SceneFeature] = binding.cover.features if binding.cover else ()
    return sorted(trace.points[0][1] for trace in traces if trace.id in pair.features)


def _fall_together(heights: list[float], stations: list[float]) -> bool:
    """Say whether all holes lie at stations when the cover is shifted along the spine as a whole."""
    shifts = [station - heights[0] for station in stations if abs(station - heights[0]) <= SHIFT_MM]
    return any(
        all(any(abs(height + shift - station) <= HOLE_MM for station in stations) for height in heights)
        for shift in shifts
    )


def _rows_words(pair: RowPair) -> str:
    one, two = pair.holes
    apart = decimal(f"{pair.apart_mm:.1f}")
    if one == two:
        told = _("two rows of {count} holes, {apart} mm apart, along the cover's spine")
        return told.format(count=one, apart=apart)
    told = _("two rows, of {one} and {two} holes, {apart} mm apart, along the cover's spine")
    return told.format(one=one, two=two, apart=apart)


def _heights(values: Iterable[float]) -> str:
    return decimals(f"{value:g}" for value in values)


def _traces(pairs: Iterable[RowPair]) -> tuple[str, ...]:
    return tuple(name for pair in pairs for name in pair.features)
