"""What lies beneath a piece that is being placed: the planes of its volume, and lines to lay it against."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.dossier import Dossier
from guardbook.binding.plane_keys import plane_key
from guardbook.binding.plane_phrases import centred_on, edge_towards, from_zero, towards
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_parts import SceneItem, SceneStation
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.setting_out import bare_plane
from guardbook.records import terms
from guardbook.wording import _, decimal, language

# lines that lie nearer to each other than this, in mm, are one line to lay a piece against
SAME_LINE_MM = 0.05
# a point where a thread, a tie or a nail went through, which helps to find a place by
_HOLE = "hole"


@dataclass(frozen=True, kw_only=True)
class Guide:
    """A line of a plane that a piece can be laid against: upright at x = `at`, or level at y = `at` (mm).

    `piece` is the one whose edge or fold it is, if it is one's. A piece is laid on a `centre` by its middle.
    """

    axis: str
    at: float
    words: str
    piece: str | None = None
    centre: bool = False

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "axis": self.axis,
            "at": round(self.at, 2),
            "words": self.words,
            "piece": self.piece,
            "centre": self.centre,
        }


@dataclass(frozen=True, kw_only=True)
class GroundPlane:
    """One plane as it lies beneath a piece that is being placed, and its guides, those of most use first."""

    seen: ScenePlane
    guides: tuple[Guide, ...]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data, outlines as rings of points, and the words that say a place on it."""
        seen = self.seen
        names = {name: getattr(seen.plane, name) for name in ("gathering", "leaf", "leaf_side", "side")}
        return {
            "key": plane_key(seen.plane),
            "parts": {
                "plane": seen.plane.plane,
                "gathering": names["gathering"],
                "leaf": names["leaf"],
                "leafSide": names["leaf_side"],
                "side": names["side"],
            },
            "words": seen.words,
            "left": round(seen.left, 2),
            "bottom": round(seen.bottom, 2),
            "right": round(seen.right, 2),
            "top": round(seen.top, 2),
            "edgesKnown": seen.edges_known,
            "seenReversed": seen.plane.is_seen_reversed,
            "centred": seen.plane.axes.centred,
            "sayings": _sayings(seen.plane),
            "pieces": [_piece_json(item) for item in seen.items if item.outline is not None],
            "stations": [{"y": round(one.y, 2), "kind": one.kind} for one in seen.stations],
            "folds": [
                {"piece": item.piece, "points": [_rounded(point) for point in fold.points]}
                for item in seen.items
                for fold in item.folds
            ],
            "guides": [guide.as_json() for guide in self.guides],
        }


@dataclass(frozen=True, kw_only=True)
class Ground:
    """The planes of a volume at a stage, for a piece to be placed on."""

    scene: Scene
    planes: tuple[GroundPlane, ...]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; lengths in mm."""
        return {
            "host": self.scene.host,
            "name": self.scene.name,
            "stage": self.scene.stage,
            "stageWords": self.scene.stage_words,
            "planes": [plane.as_json() for plane in self.planes],
        }


def ground_of(dossier: Dossier, host: str, stage: int, also: Iterable[PlaneName] = ()) -> Ground:
    """Give the planes of a volume at a stage, and others of it that nothing is known of yet (`also`).

    Raises NotFound and WrongUse as `scene_of`.
    """
    scene = scene_of(dossier, host, stage)
    there = {plane.plane for plane in scene.planes}
    record = dossier.host(host)
    bare = [bare_plane(record, stage, name) for name in dict.fromkeys(also) if name not in there]
    planes = (*scene.planes, *bare)
    return Ground(
        scene=scene, planes=tuple(GroundPlane(seen=one, guides=tuple(guides_of(one))) for one in planes)
    )


def guides_of(plane: ScenePlane) -> list[Guide]:
    """Give the lines of a plane that a piece can be laid against; of lines in one place only the first."""
    kept: list[Guide] = []
    for guide in (
        *_zero_and_edges(plane),
        *_of_the_sewing(plane),
        *_of_folds(plane.items),
        *_of_pieces(plane),
    ):
        if not any(one.axis == guide.axis and abs(one.at - guide.at) < SAME_LINE_MM for one in kept):
            kept.append(guide)
    return kept


def _zero_and_edges(plane: ScenePlane) -> Iterator[Guide]:
    axes = plane.plane.axes
    yield Guide(axis="x", at=0.0, words=_(axes.x_zero), centre=axes.centred)
    yield Guide(axis="y", at=0.0, words=_(axes.y_zero))
    if not plane.edges_known:
        return
    yield Guide(axis="y", at=plane.top, words=edge_towards("the head"))
    yield Guide(axis="y", at=plane.bottom, words=edge_towards("the tail"))
    yield Guide(axis="x", at=plane.right, words=edge_towards(axes.x_towards))
    if axes.centred:
        yield Guide(axis="x", at=plane.left, words=edge_towards(axes.x_away))


def _of_the_sewing(plane: ScenePlane) -> Iterator[Guide]:
    yield from (_of_station(one) for one in plane.stations)
    for panel in plane.panels[:-1]:
        words = _("between panels {one} and {two}").format(one=panel.number, two=panel.number + 1)
        yield Guide(axis="y", at=panel.bottom, words=words)


def _of_station(station: SceneStation) -> Guide:
    kind = terms.label("station-kind", station.kind, language()) if station.kind else _("sewing station")
    words = _("{kind}, {length} mm from the tail").format(kind=kind, length=decimal(f"{station.y:.1f}"))
    return Guide(axis="y", at=station.y, words=words)


def _of_folds(items: Iterable[SceneItem]) -> Iterator[Guide]:
    """Give the folds that run along one of the axes."""
    for item in items:
        for fold in item.folds:
            (x, y), (to_x, to_y) = fold.points
            words = _fold_words(fold.kind)
            if abs(x - to_x) < SAME_LINE_MM:
                yield Guide(axis="x", at=x, words=words, piece=item.piece)
            elif abs(y - to_y) < SAME_LINE_MM:
                yield Guide(axis="y", at=y, words=words, piece=item.piece)


def _fold_words(kind: str) -> str:
    words = {
        "joint": _("the joint"),
        "turn-in": _("the fold of a turn-in"),
        "flap": _("the fold of the flap"),
        "edge": _("an edge that a piece is folded over"),
    }
    return words.get(kind) or _("a fold")


def _of_pieces(plane: ScenePlane) -> Iterator[Guide]:
    for item in plane.items:
        if item.outline is None or not item.measured:
            continue
        left, bottom, right, top = item.outline.bounds
        words = _("an edge of {piece}").format(piece=item.name)
        for axis, at in (("x", left), ("x", right), ("y", bottom), ("y", top)):
            yield Guide(axis=axis, at=at, words=words, piece=item.piece)


def _sayings(plane: PlaneName) -> dict[str, str]:
    """Give the sentences of `place_words` that say where something lies across, with room for distances."""
    axes = plane.axes
    away, onwards = towards(axes.x_away), towards(axes.x_towards)
    side = _("{near} to {far} mm {from_zero} {towards}")
    lengths = {"near": "{near}", "far": "{far}", "from_zero": from_zero(axes.x_zero)}
    return {
        "low": _(axes.x_away),
        "high": _(axes.x_towards),
        "from": _("{length} mm {from_zero}").format(length="{length}", from_zero=from_zero(axes.x_zero)),
        "centred": centred_on(axes.x_zero) if axes.centred else "",
        "towards": side.format(**lengths, towards=onwards),
        "away": side.format(**lengths, towards=away),
        "across": _("reaching {left} mm {away} and {right} mm {towards}").format(
            left="{left}", away=away, right="{right}", towards=onwards
        ),
    }


def _piece_json(item: SceneItem) -> dict[str, Any]:
    holes = [one.points[0] for one in item.features if _is_hole(one.kind) and len(one.points) == 1]
    return {
        "piece": item.piece,
        "name": item.name,
        "isSheet": item.is_sheet,
        "measured": item.measured,
        "rings": _rings(item.outline),
        "holes": [_rounded(point) for point in holes],
    }


def _is_hole(kind: str) -> bool:
    found = terms.of_scheme("feature").get(kind)
    return kind == _HOLE or (found is not None and found.broader == _HOLE)


def _rings(outline: BaseGeometry | None) -> list[list[list[float]]]:
    """Give the outer and inner edges of areas, each as its points without the first again at the end."""
    parts = shapely.get_parts(outline)
    polygons = [part for part in parts if isinstance(part, shapely.Polygon)]
    rings = [ring for polygon in polygons for ring in (polygon.exterior, *polygon.interiors)]
    return [[_rounded((x, y)) for x, y, *_rest in ring.coords[:-1]] for ring in rings]


def _rounded(point: tuple[float, float]) -> list[float]:
    return [round(value, 2) for value in point]
