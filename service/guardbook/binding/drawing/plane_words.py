"""A plane of a volume told in words: what lies where, for those who do not see the drawing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from guardbook.binding.drawing import signs
from guardbook.binding.drawing.lettering import isolated
from guardbook.binding.drawing.svg import figure
from guardbook.binding.drawing.trace_marks import is_shown
from guardbook.binding.drawing.visible import Seen
from guardbook.binding.plane_phrases import from_zero, towards
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import SceneFeature, SceneGap, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.records import terms
from guardbook.wording import _, ngettext, said_later

_CERTAINTY: Mapping[str | None, str] = {
    "measured": said_later("measured"),
    "from-photograph": said_later("from a photograph"),
    "from-traces": said_later("worked out from traces"),
    "inferred": said_later("inferred"),
}
_UNKNOWN = said_later("not known how well")


def certainty_words(item: SceneItem) -> str:
    """Say in a few words how well the place of a piece is known."""
    return _(_CERTAINTY.get(item.certainty, _UNKNOWN)) if item.measured else _("not measured")


def piece_words(item: SceneItem) -> str:
    """Give the line of the legend for a piece."""
    said = [terms.label("function", item.function)] if item.function else []
    said.append(certainty_words(item))
    if item.layer is not None and not item.is_sheet:
        said.append(_("layer\u00a0{number}").format(number=item.layer))
    if item.from_other_face:
        said.append(_("on the other face") if not item.is_sheet else _("seen from its back"))
    return f"{isolated(item.name)}: {', '.join(said)}"


def gap_words(gap: SceneGap) -> str:
    """Give the line of the legend for a piece that is gone."""
    return f"{isolated(gap.name)}: {_instead(gap)}"


def _instead(gap: SceneGap) -> str:
    if gap.replaced_by and gap.replaced_by != "nothing":
        return _("gone; in its place: {replacement}").format(
            replacement=terms.label("replacement", gap.replaced_by)
        )
    return _("gone, nothing in its place") if gap.is_open else _("gone, another piece in its place")


def plane_words(plane: ScenePlane, seen: Iterable[Seen], letters: Mapping[str, str]) -> Iterator[str]:
    """Tell a plane from the nearest piece to the farthest, a paragraph a piece."""
    by_item = {id(one.item): one for one in seen}
    yield _count(len(plane.items))
    for item in reversed(plane.items):
        yield _told(item, plane.plane, by_item.get(id(item)), letters)
    for gap in plane.gaps:
        said = [f"{letters[gap.piece]}: {gap_words(gap)}."]
        if gap.outline:
            where = extent_words(gap.outline.bounds, plane.plane)
            said.append(_("It lay {extent}.").format(extent=where))
        yield " ".join(said)
    yield from (f"{letters[part.piece]}: {part.words}" for part in plane.cut_later)
    if plane.stations:
        yield _stations_words(plane)


def _count(count: int) -> str:
    if not count:
        return _("No pieces on this plane.")
    return ngettext("{count} piece on this plane.", "{count} pieces on this plane.", count).format(
        count=count
    )


def _told(item: SceneItem, plane: PlaneName, seen: Seen | None, letters: Mapping[str, str]) -> str:
    said = [f"{letters[item.piece]}: {piece_words(item)}."]
    if item.outline is not None and item.measured:
        where = extent_words(item.outline.bounds, plane)
        said.append(_("It lies {extent}.").format(extent=where))
    if item.front_towards_viewer is not None:
        turned = _("Front face towards you.") if item.front_towards_viewer else _("Front face turned away.")
        said.append(turned)
    if seen and seen.is_hidden:
        said.append(_("All of it is hidden."))
    said += _neighbours(item, letters)
    said += features_words(item.features)
    return " ".join(said)


def _neighbours(item: SceneItem, letters: Mapping[str, str]) -> Iterator[str]:
    for pieces, words in (
        (item.over, _("Over it: {pieces}.")),
        (item.under, _("Under it: {pieces}.")),
        (item.overlapping, _("On it in an order that is not known: {pieces}.")),
    ):
        named = [letters[piece] for piece in pieces if piece in letters]
        if named:
            yield words.format(pieces=", ".join(named))


def extent_words(bounds: tuple[float, float, float, float], plane: PlaneName) -> str:
    """Say from where to where something lies, in mm.

    >>> extent_words((-20, 30, 35.5, 70), PlaneName("textblock-spine"))
    'from 20 mm towards the lower side to 35.5 mm towards the upper side, 30 to 70 mm from the tail'
    """
    left, bottom, right, top = bounds
    up = {"bottom": _mm(bottom), "top": _mm(top)}
    if left < 0:
        return _("from {first} to {last}, {bottom} to {top} mm from the tail").format(
            first=_side(left, plane), last=_side(right, plane), **up
        )
    return _("{left} to {right} mm {from_zero}, {bottom} to {top} mm from the tail").format(
        left=_mm(left), right=_mm(right), from_zero=from_zero(plane.axes.x_zero), **up
    )


def _side(x: float, plane: PlaneName) -> str:
    side = plane.axes.x_towards if x >= 0 else plane.axes.x_away
    return _("{length} mm {towards}").format(length=_mm(abs(x)), towards=towards(side))


def _mm(value: float) -> str:
    return figure(round(value, 1))


def features_words(features: Iterable[SceneFeature]) -> Iterator[str]:
    """Count what is on the face in sight, then what is on the one turned away."""
    told = list(features)
    shown = [feature for feature in told if is_shown(feature)]
    away = [feature for feature in told if not is_shown(feature)]
    if shown:
        yield _("On it: {traces}.").format(traces=_counted(shown))
    if away:
        yield _("On the face turned away, not drawn: {traces}.").format(traces=_counted(away))


def _counted(features: Iterable[SceneFeature]) -> str:
    counts = Counter(feature_words(feature) for feature in features)
    return "; ".join(f"{count} × {words}" for words, count in sorted(counts.items()))


def feature_words(feature: SceneFeature) -> str:
    """Say what kind of trace it is, and for holes and folds of which use."""
    if feature.kind in signs.HOLES:
        return signs.hole_words(feature.kind, feature.use)
    if feature.kind in signs.FOLDS:
        return signs.fold_words(feature.kind, feature.use)
    return signs.trace_words(feature.kind)


def _stations_words(plane: ScenePlane) -> str:
    told = (f"{_mm(station.y)} mm ({_station(station.kind)})" for station in plane.stations)
    return _("Sewing stations, from the tail: {heights}.").format(heights=", ".join(told))


def _station(kind: str | None) -> str:
    return terms.label("station-kind", kind) if kind else _("kind not said")
