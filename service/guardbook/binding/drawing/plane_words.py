"""A plane of a volume told in words: what lies where, for those who do not see the drawing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from guardbook.binding.drawing import signs
from guardbook.binding.drawing.lettering import isolated
from guardbook.binding.drawing.svg import number
from guardbook.binding.drawing.trace_marks import is_shown
from guardbook.binding.drawing.visible import Seen
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import SceneFeature, SceneGap, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.records import terms

_CERTAINTY: Mapping[str | None, str] = {
    "measured": "measured",
    "from-photograph": "from a photograph",
    "from-traces": "worked out from traces",
    "inferred": "inferred",
}
_UNKNOWN = "not known how well"


def certainty_words(item: SceneItem) -> str:
    """Say in a few words how well the place of a piece is known."""
    return _CERTAINTY.get(item.certainty, _UNKNOWN) if item.measured else "not measured"


def piece_words(item: SceneItem) -> str:
    """Give the line of the legend for a piece."""
    said = [terms.label("function", item.function)] if item.function else []
    said.append(certainty_words(item))
    if item.layer is not None and not item.is_sheet:
        said.append(f"layer\u00a0{item.layer}")
    if item.from_other_face:
        said.append("on the other face" if not item.is_sheet else "seen from its back")
    return f"{isolated(item.name)}: {', '.join(said)}"


def gap_words(gap: SceneGap) -> str:
    """Give the line of the legend for a piece that is gone."""
    return f"{isolated(gap.name)}: {_instead(gap)}"


def _instead(gap: SceneGap) -> str:
    if gap.replaced_by and gap.replaced_by != "nothing":
        return f"gone; in its place: {terms.label('replacement', gap.replaced_by)}"
    return "gone, nothing in its place" if gap.is_open else "gone, another piece in its place"


def plane_words(plane: ScenePlane, seen: Iterable[Seen], letters: Mapping[str, str]) -> Iterator[str]:
    """Tell a plane from the nearest piece to the farthest, a paragraph a piece."""
    by_item = {id(one.item): one for one in seen}
    yield f"{len(plane.items) or 'No'} {'piece' if len(plane.items) == 1 else 'pieces'} on this plane."
    for item in reversed(plane.items):
        yield _told(item, plane.plane, by_item.get(id(item)), letters)
    for gap in plane.gaps:
        where = f" It lay {extent_words(gap.outline.bounds, plane.plane)}." if gap.outline else ""
        yield f"{letters[gap.piece]}: {gap_words(gap)}.{where}"
    if plane.stations:
        yield _stations_words(plane)


def _told(item: SceneItem, plane: PlaneName, seen: Seen | None, letters: Mapping[str, str]) -> str:
    said = [f"{letters[item.piece]}: {piece_words(item)}."]
    if item.outline is not None and item.measured:
        said.append(f"It lies {extent_words(item.outline.bounds, plane)}.")
    if item.front_towards_viewer is not None:
        said.append("Front face towards you." if item.front_towards_viewer else "Front face turned away.")
    if seen and seen.is_hidden:
        said.append("All of it is hidden.")
    said += _neighbours(item, letters)
    said += features_words(item.features)
    return " ".join(said)


def _neighbours(item: SceneItem, letters: Mapping[str, str]) -> Iterator[str]:
    for pieces, words in (
        (item.over, "Over it"),
        (item.under, "Under it"),
        (item.overlapping, "On it in an order that is not known"),
    ):
        named = [letters[piece] for piece in pieces if piece in letters]
        if named:
            yield f"{words}: {', '.join(named)}."


def extent_words(bounds: tuple[float, float, float, float], plane: PlaneName) -> str:
    """Say from where to where something lies, in mm.

    >>> extent_words((-20, 30, 35.5, 70), PlaneName("textblock-spine"))
    'from 20 mm towards the lower side to 35.5 mm towards the upper side, 30 to 70 mm from the tail'
    """
    left, bottom, right, top = bounds
    ends = [_side(left, plane), _side(right, plane)]
    across = (
        f"from {ends[0]} to {ends[1]}"
        if left < 0
        else f"{_mm(left)} to {_mm(right)} mm from " + (plane.axes.x_zero)
    )
    return f"{across}, {_mm(bottom)} to {_mm(top)} mm from the tail"


def _side(x: float, plane: PlaneName) -> str:
    towards = plane.axes.x_towards if x >= 0 else plane.axes.x_away
    return f"{_mm(abs(x))} mm towards {towards}"


def _mm(value: float) -> str:
    return number(round(value, 1))


def features_words(features: Iterable[SceneFeature]) -> Iterator[str]:
    """Count what is on the face in sight, then what is on the one turned away."""
    told = list(features)
    shown = [feature for feature in told if is_shown(feature)]
    away = [feature for feature in told if not is_shown(feature)]
    if shown:
        yield f"On it: {_counted(shown)}."
    if away:
        yield f"On the face turned away, not drawn: {_counted(away)}."


def _counted(features: Iterable[SceneFeature]) -> str:
    counts = Counter(feature_words(feature) for feature in features)
    return "; ".join(f"{count} × {words}" for words, count in sorted(counts.items()))


def feature_words(feature: SceneFeature) -> str:
    """Say what kind of trace it is, and for holes and folds of which use."""
    if feature.kind in signs.HOLES:
        return signs.hole_words(feature.kind, feature.use)
    label = terms.label("feature", feature.kind)
    return f"{label}, {signs.use_words(feature.use)}" if feature.kind in signs.FOLDS else label


def _stations_words(plane: ScenePlane) -> str:
    told = (f"{_mm(station.y)} mm ({_station(station.kind)})" for station in plane.stations)
    return f"Sewing stations, from the tail: {', '.join(told)}."


def _station(kind: str | None) -> str:
    return terms.label("station-kind", kind) if kind else "kind not said"
