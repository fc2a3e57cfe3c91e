"""What a scene is made of: pieces on a plane with their features, folds, stations, and what is missing.

All lengths are mm on the plane a part belongs to; x and y are those of the table of planes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.transforms import Affine

Point = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class SceneFeature:
    """A hole, fold, edge, stain or other trace of a piece, where it falls on the plane.

    `points` are one point (a hole), two (a fold or an edge runs from the one to the other) or the four
    corners of an area (a stain). `use_host` is the volume in which its series was made. It was `made` now
    (in the use the piece has at this stage), earlier or later; None where that is not known.
    `on_this_face` is false for what is on the face turned away; what goes `through` is on both.
    """

    id: str
    kind: str
    points: tuple[Point, ...]
    diameter: float | None = None
    series: str | None = None
    use: str | None = None
    use_host: str | None = None
    made: str | None = None
    through: bool = False
    on_this_face: bool = True
    certainty: str | None = None
    note: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "id": self.id,
            "kind": self.kind,
            "points": [_rounded(point) for point in self.points],
            "diameter": self.diameter,
            "series": self.series,
            "use": self.use,
            "useHost": self.use_host,
            "made": self.made,
            "through": self.through,
            "onThisFace": self.on_this_face,
            "certainty": self.certainty,
            "note": self.note,
        }


@dataclass(frozen=True, kw_only=True)
class SceneFold:
    """A line along which a cover or a piece folds when the volume is closed.

    `kind` is joint, turn-in, flap, edge (a piece goes on past the edge of its plane) or fold. `feature` is
    the fold feature it was seen as; None where it was worked out from the size of the volume.
    """

    kind: str
    points: tuple[Point, Point]
    feature: str | None = None

    @property
    def seen(self) -> bool:
        """Say whether it was seen on the piece, and not only worked out."""
        return self.feature is not None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        points = [_rounded(point) for point in self.points]
        return {"kind": self.kind, "points": points, "feature": self.feature, "seen": self.seen}


@dataclass(frozen=True, kw_only=True)
class SceneItem:
    """A piece on a plane at a stage, by one of its positions.

    `measured` is false where the piece is only drawn in the area its position names, and `words` say which.
    `features` are those that were there at the stage. `is_sheet` is true for the cover, board or leaf that
    the plane is a face of, `from_other_face` for one whose position is on its other face: it is seen here
    from its back, and `layer` is that other position's.
    `front_towards_viewer` is None where it is not known. `image` is the picture of the face one sees and
    `image_way` maps its pixels (from the top left, y down) to the plane; None where its scale is not known.
    `over`, `under` and `overlapping` are the pieces that lie over it as one looks at the plane, under it, and
    on it in an order that is not known. `placing` and `position` are IRIs of what says so.
    """

    piece: str
    name: str
    words: str
    outline: BaseGeometry | None
    function: str | None = None
    measured: bool = True
    certainty: str | None = None
    layer: int | None = None
    visible_in_place: str | None = None
    is_sheet: bool = False
    from_other_face: bool = False
    front_towards_viewer: bool | None = None
    thickness: float | None = None
    way: Affine | None = None
    image: str | None = None
    image_way: Affine | None = None
    features: tuple[SceneFeature, ...] = ()
    folds: tuple[SceneFold, ...] = ()
    over: tuple[str, ...] = ()
    under: tuple[str, ...] = ()
    overlapping: tuple[str, ...] = ()
    placing: str | None = None
    position: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; the outline in WKT, to the hundredth of a millimetre."""
        return {
            "piece": self.piece,
            "name": self.name,
            "words": self.words,
            "outline": outline_json(self.outline),
            "function": self.function,
            "measured": self.measured,
            "certainty": self.certainty,
            "layer": self.layer,
            "visibleInPlace": self.visible_in_place,
            "isSheet": self.is_sheet,
            "fromOtherFace": self.from_other_face,
            "frontTowardsViewer": self.front_towards_viewer,
            "thickness": self.thickness,
            "way": affine_json(self.way),
            "image": self.image,
            "imageWay": affine_json(self.image_way),
            "features": all_json(self.features),
            "folds": all_json(self.folds),
            "over": list(self.over),
            "under": list(self.under),
            "overlapping": list(self.overlapping),
            "placing": self.placing,
            "position": self.position,
        }


@dataclass(frozen=True, kw_only=True)
class SceneStation:
    """A sewing station in use at the stage, at `y` on this plane."""

    id: str
    y: float
    kind: str | None = None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {"id": self.id, "y": round(self.y, 2), "kind": self.kind}


@dataclass(frozen=True, kw_only=True)
class SceneGap:
    """Where a piece lay at an earlier stage and is no more; `outline` is None where that is not known.

    `event` took it away, None where no record says what did. `replaced_by` says what took its place by that
    record (a slug), `filled_by` is a piece of the same function that lies there now.
    """

    piece: str
    name: str
    words: str
    outline: BaseGeometry | None = None
    measured: bool = True
    function: str | None = None
    event: str | None = None
    replaced_by: str | None = None
    filled_by: str | None = None

    @property
    def is_open(self) -> bool:
        """Say whether nothing is known to have taken its place."""
        return self.replaced_by in {None, "nothing"} and self.filled_by is None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "piece": self.piece,
            "name": self.name,
            "words": self.words,
            "outline": outline_json(self.outline),
            "measured": self.measured,
            "function": self.function,
            "event": self.event,
            "replacedBy": self.replaced_by,
            "filledBy": self.filled_by,
            "open": self.is_open,
        }


Part = SceneFeature | SceneFold | SceneItem | SceneStation | SceneGap


def all_json(parts: Iterable[Part]) -> list[dict[str, Any]]:
    """Give parts of a scene as plain data."""
    return [part.as_json() for part in parts]


def outline_json(outline: BaseGeometry | None) -> str | None:
    """Give an outline in WKT, to the hundredth of a millimetre."""
    return None if outline is None else shapely.to_wkt(outline, rounding_precision=2)


def affine_json(way: Affine | None) -> list[float] | None:
    """Give a mapping as a, b, d, e, x_off, y_off (x' = a x + b y + x_off, y' = d x + e y + y_off)."""
    return None if way is None else [way.a, way.b, way.d, way.e, way.x_off, way.y_off]


def _rounded(point: Point) -> list[float]:
    return [round(value, 2) for value in point]
