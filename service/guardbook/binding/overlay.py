"""Two bindings laid over each other in one plane, registered by the piece that both of them held."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guardbook.binding.dossier import Dossier
from guardbook.binding.hole_rows import row_pairs
from guardbook.binding.overlay_parts import SIDES, Overlay
from guardbook.binding.overlay_sides import Used
from guardbook.binding.overlay_table import rows_of
from guardbook.binding.overlay_traces import judged, traces_of
from guardbook.binding.planes import PLANES, PlaneName
from guardbook.binding.scene import Scene, scene_of
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.transforms import SAME
from guardbook.errors import WrongUse
from guardbook.wording import _

_Place = tuple[ScenePlane, SceneItem]
_ORDER = list(PLANES)


def overlay_of(
    dossier: Dossier, a: tuple[str, int], b: tuple[str, int], plane: PlaneName | None = None
) -> Overlay:
    """Lay two stages, each a volume and a number, over each other on a plane of the first (None: the best).

    The largest piece that is measured at both stages registers them: its own frame is common to both. Where
    there is none they lie on each other by the origins of their planes. Raises NotFound and WrongUse as
    `scene_of`, and WrongUse where there is no plane that both have.
    """
    scenes = [scene_of(dossier, host, stage) for host, stage in (a, b)]
    places = _shared(scenes, plane)
    both = _by_origins(scenes, plane) if places is None else _by_piece(scenes, places)
    piece = both[0].shared
    traces = traces_of(dossier, piece, both[0]) if piece else ()
    found = tuple(judged(dossier, piece.piece, traces, both)) if piece else ()
    spines = {used.key: (_name(used.scene), 2 * used.half_spine) for used in both if used.half_spine}
    side_a, side_b = (used.side for used in both)
    return Overlay(
        a=side_a,
        b=side_b,
        registered_by=piece.piece if piece else None,
        words=_words(both),
        shared=replace(piece, features=traces) if piece else None,
        features=found,
        covered=tuple(area for used in both for area in used.covered()),
        row_pairs=row_pairs(traces, spines),
        rows=rows_of(found, (side_a, side_b)),
    )


def _shared(scenes: Sequence[Scene], plane: PlaneName | None) -> list[_Place] | None:
    """Choose the piece that is measured in both and covers most, and where it lies in each."""
    in_a, in_b = (_measured(scene) for scene in scenes)
    common = {item.piece for _, item in in_b}
    wanted = [place for place in in_a if plane in {None, place[0].plane} and place[1].piece in common]
    found = min(wanted, key=_preference, default=None)
    if found is None:
        return None
    there = [place for place in in_b if place[1].piece == found[1].piece]
    return [found, min(there, key=lambda place: (place[0].plane != found[0].plane, *_preference(place)))]


def _measured(scene: Scene) -> list[_Place]:
    return [(plane, item) for plane in scene.planes for item in plane.items if item.measured and item.way]


def _preference(place: _Place) -> tuple[object, ...]:
    plane, item = place
    area = item.outline.area if item.outline is not None else 0.0
    return -round(area, 3), item.from_other_face, _ORDER.index(plane.plane.plane), item.piece


def _by_piece(scenes: Sequence[Scene], places: Sequence[_Place]) -> list[Used]:
    """Bring the second volume's plane to the first's by way of the piece's own frame."""
    way_a, way_b = (item.way or SAME for _, item in places)
    ways = [SAME, way_a.after(way_b.inverse())]
    return [
        Used(key, scene, plane, way, item)
        for key, scene, way, (plane, item) in zip(SIDES, scenes, ways, places, strict=True)
    ]


def _by_origins(scenes: Sequence[Scene], plane: PlaneName | None) -> list[Used]:
    common = [found.plane for found in scenes[0].planes if scenes[1].plane(found.plane)]
    wanted = common if plane is None else [name for name in common if name == plane]
    if not wanted:
        raise _nothing_common(scenes, plane)
    best = min(wanted, key=lambda name: _ORDER.index(name.plane))
    planes = [next(found for found in scene.planes if found.plane == best) for scene in scenes]
    return [Used(*known, SAME) for known in zip(SIDES, scenes, planes, strict=True)]


def _nothing_common(scenes: Sequence[Scene], plane: PlaneName | None) -> WrongUse:
    told = (
        _(
            "{one} and {two} have no piece in common that is measured in both, and no plane that both have. "
            "Choose another."
        )
        if plane is None
        else _(
            "{one} and {two} have no piece in common that is measured in both, and no plane {plane} that "
            "both have. Choose another."
        )
    )
    one, two = map(_name, scenes)
    return WrongUse(message=told.format(one=one, two=two, plane=plane and plane.plane))


def _name(scene: Scene) -> str:
    return _("{volume} at stage {number}").format(volume=scene.name, number=scene.stage)


def _words(both: Sequence[Used]) -> str:
    names = _(" and ").join(f"{_name(used.scene)} ({used.scene.stage_words})" for used in both)
    pieces = [used.shared for used in both if used.shared]
    if not pieces:
        axes = both[0].plane.plane.axes
        return _(
            "{volumes} share no piece that is measured in both. They lie on each other by {x_zero} and "
            "{y_zero}."
        ).format(volumes=names, x_zero=_(axes.x_zero), y_zero=_(axes.y_zero))
    turned = len({piece.front_towards_viewer for piece in pieces}) > 1
    told = _("{volumes}, laid over each other by what both held: {piece}.")
    if turned:
        told = _("{volumes}, laid over each other by what both held: {piece}. It was turned over in between.")
    return told.format(volumes=names, piece=pieces[0].name)
