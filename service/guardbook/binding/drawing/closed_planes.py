"""The faces of a closed volume: what of its cover and its pieces comes to lie on each of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.closed_cover import FoldedPart, folded_parts
from guardbook.binding.folds import fold_of
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.transforms import PLANE_MIRROR, SAME, Affine, shift

_OUTSIDE, _INSIDE, _BACK = (
    PlaneName("cover-outside"),
    PlaneName("cover-inside"),
    PlaneName("textblock-spine"),
)
_FACES = frozenset({"spine", "upper", "lower"})
# the least of a piece, in mm2, that is taken to reach round an edge
_LEAST_MM2 = 0.5


def closed_planes(scene: Scene) -> tuple[ScenePlane, ...]:
    """Give the faces of a volume as it lies closed: lower board, spine and upper board from outside, then the
    insides of both boards.

    What lies past the edges of a board is folded over onto its other side. Nothing is given where neither the
    joints of the cover nor the width of the spine are known.
    """
    parts = _parts(scene)
    faces = {part.part: part for part in parts if part.part in _FACES}
    if len(faces) < len(_FACES):
        return ()
    lower, upper = faces["spine"].region.bounds[0], faces["spine"].region.bounds[2]
    return (
        _outside(scene, parts, faces["lower"], "lower"),
        _spine(scene, faces["spine"]),
        _outside(scene, parts, faces["upper"], "upper"),
        _inside(scene, parts, faces["upper"], shift(-upper, 0).after(PLANE_MIRROR)),
        _inside(scene, parts, faces["lower"], shift(lower, 0)),
    )


def can_be_closed(scene: Scene) -> bool:
    """Say whether enough is known to fold a volume shut."""
    return {part.part for part in _parts(scene)} >= _FACES


def _parts(scene: Scene) -> tuple[FoldedPart, ...]:
    """Fold the cover where it is a piece; else take the volume for a cover as large as its outside plane."""
    sheet = next((item for item in _items(scene, _OUTSIDE) if _is_whole(item)), None)
    thickness = scene.size.thickness or scene.size.spine_width or 0.0
    found = folded_parts(sheet, thickness) if sheet else ()
    stand_in = None if found else _stand_in(scene)
    return folded_parts(stand_in, thickness) if stand_in else found


def _is_whole(item: SceneItem) -> bool:
    return item.is_sheet and item.measured and not item.from_other_face


def _stand_in(scene: Scene) -> SceneItem | None:
    plane, half = scene.plane(_OUTSIDE), (scene.size.spine_width or scene.size.thickness or 0.0) / 2
    if plane is None or not half or not plane.edges_known:
        return None
    box = shapely.box(plane.left, plane.bottom, plane.right, plane.top)
    folds = tuple(fold_of("joint", ((x, plane.bottom), (x, plane.top))) for x in (-half, half))
    return SceneItem(piece="", name="", words="", outline=box, folds=folds)


def _items(scene: Scene, name: PlaneName) -> tuple[SceneItem, ...]:
    plane = scene.plane(name)
    return plane.items if plane else ()


def _outside(scene: Scene, parts: Iterable[FoldedPart], face: FoldedPart, side: str) -> ScenePlane:
    name = PlaneName("board-outside", side=side)
    cover = list(_folded(scene, face))
    flaps = [
        found
        for part in parts
        if part.part == "flap" and part.plane == name
        for found in _folded(scene, part)
    ]
    on_board = [item for item in _items(scene, name) if not item.from_other_face]
    return _face(name, face, [*_by_layer([*cover, *on_board]), *flaps])


def _spine(scene: Scene, face: FoldedPart) -> ScenePlane:
    way = scene.registration.way.inverse() if scene.registration else SAME
    beneath = _moved(_items(scene, _BACK), way, face.region)
    return _face(_OUTSIDE, face, [*beneath, *_folded(scene, face)])


def _inside(scene: Scene, parts: Iterable[FoldedPart], face: FoldedPart, to_board: Affine) -> ScenePlane:
    """Lay the turn-ins over the inside of the cover, and what is on the board over the turn-ins."""
    name = PlaneName("board-inside", side=face.part)
    board = face.way.shape(face.region)
    inner = list(_moved(_items(scene, _INSIDE), to_board, board))
    turned = [
        found
        for part in parts
        if part.part == "turn-in"
        for found in _moved(_folded(scene, part), to_board, board)
    ]
    on_board = [item for item in _items(scene, name) if not item.from_other_face]
    return _face(name, face, [*inner, *turned, *on_board])


def _by_layer(items: Sequence[SceneItem]) -> list[SceneItem]:
    return sorted(items, key=lambda item: (not item.is_sheet, item.layer or 0))


def _folded(scene: Scene, part: FoldedPart) -> Iterator[SceneItem]:
    items = (item for item in _items(scene, _OUTSIDE) if not item.from_other_face)
    for item in items:
        if item.outline is not None:
            outline = part.folded(item.outline)
            if outline.area > _LEAST_MM2:
                features = _features(item.features, part.way, part.region)
                yield replace(
                    item, outline=outline, features=features, folds=(), image_way=_shown(item, part.way)
                )


def _moved(items: Iterable[SceneItem], way: Affine, within: BaseGeometry) -> Iterator[SceneItem]:
    back = way.inverse().shape(within)
    for item in items:
        if item.outline is not None:
            outline = way.shape(item.outline).intersection(within)
            if outline.area > _LEAST_MM2:
                features = _features(item.features, way, back)
                yield replace(item, outline=outline, features=features, folds=(), image_way=_shown(item, way))


def _shown(item: SceneItem, way: Affine) -> Affine | None:
    return way.after(item.image_way) if item.image_way else None


def _features(
    features: Iterable[SceneFeature], way: Affine, region: BaseGeometry
) -> tuple[SceneFeature, ...]:
    """Give the traces that lie in a region, moved; a fold or edge that runs out of it is cut off there."""
    kept = []
    for feature in features:
        if len(feature.points) == 2:
            line = shapely.LineString(feature.points).intersection(region)
            points = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(line))
            points = (points[0], points[-1]) if len(points) > 1 else ()
        else:
            inside = all(region.dwithin(shapely.Point(point), 0.01) for point in feature.points)
            points = feature.points if inside else ()
        if points:
            kept.append(replace(feature, points=tuple(way.point(*point) for point in points)))
    return tuple(kept)


def _face(name: PlaneName, face: FoldedPart, items: Sequence[SceneItem]) -> ScenePlane:
    board = face.way.shape(face.region)
    left, bottom, right, top = board.bounds
    return ScenePlane(
        plane=name, left=left, bottom=bottom, right=right, top=top, limits_from="sheet", items=tuple(items)
    )
