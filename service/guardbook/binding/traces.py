"""Holes, folds, edges and stains of a piece as they fall on a plane, on which face, and from which use."""

from __future__ import annotations

from types import MappingProxyType

from guardbook.binding.scene_parts import Point, SceneFeature
from guardbook.binding.transforms import Affine
from guardbook.binding.uses import Standing
from guardbook.records.fragment import Feature, Fragment

# traces that fill the rectangle between their two points; the others are a point or a line
AREAS = frozenset({"stain", "adhesive-residue", "impression", "inscription", "offset"})
_OPPOSITE: MappingProxyType[str, str] = MappingProxyType(
    {"front": "back", "back": "front", "recto": "verso", "verso": "recto", "hair": "flesh", "flesh": "hair"}
)


def traces_on(
    piece: Fragment,
    way: Affine,
    *,
    front_towards_viewer: bool | None,
    standing: Standing = lambda _series: None,
) -> tuple[SceneFeature, ...]:
    """Give the traces of a piece whose place on it is known, mapped by `way` from its own frame."""
    series_by_id = {one.id: one for one in piece.series}

    def trace(feature: Feature, points: tuple[Point, ...]) -> SceneFeature:
        series = series_by_id.get(feature.in_series or "")
        on_front = is_on_front(feature.face, piece.front_face)
        turned_away = on_front is not None and front_towards_viewer not in {None, on_front}
        return SceneFeature(
            id=f"{piece.id}{feature.id}",
            kind=feature.feature_kind,
            points=points,
            diameter=None if feature.diameter is None else float(feature.diameter),
            series=f"{piece.id}{series.id}" if series else None,
            use=series.use if series else None,
            use_host=series.host if series else None,
            made=standing(series),
            through=bool(feature.goes_through),
            on_this_face=bool(feature.goes_through) or not turned_away,
            certainty=feature.certainty,
            note=feature.note,
        )

    placed = ((feature, _points(feature, way)) for feature in piece.features)
    return tuple(trace(feature, points) for feature, points in placed if points)


def is_on_front(face: str | None, front_face: str | None) -> bool | None:
    """Say whether a face named in any way is the front of a piece; None if that cannot be told.

    >>> is_on_front("flesh", "hair")
    False
    """
    if face in {"front", "back"}:
        return face == "front"
    if face is None or front_face is None:
        return None
    return {front_face: True, _OPPOSITE.get(front_face): False}.get(face)


def other_face_of(face: str | None) -> str | None:
    """Give the name of the face behind a face; None where that has no name of its own."""
    return _OPPOSITE.get(face or "")


def _points(feature: Feature, way: Affine) -> tuple[Point, ...]:
    if feature.x is None or feature.y is None:
        return ()
    start = float(feature.x), float(feature.y)
    if feature.to_x is None or feature.to_y is None:
        return (way.point(*start),)
    end = float(feature.to_x), float(feature.to_y)
    ends = [start, end]
    if feature.feature_kind in AREAS:
        ends = [start, (end[0], start[1]), end, (start[0], end[1])]
    return tuple(way.point(*point) for point in ends)
