"""Sets the pieces of a volume at a stage out on its planes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property

from shapely.geometry.base import BaseGeometry

from guardbook.binding.cut_later import cut_later, cuts_after
from guardbook.binding.folds import CoverSize, cover_folds, edge_folds
from guardbook.binding.gaps import NowThere, gap_of, gone_by
from guardbook.binding.host_states import HostState, InPlace
from guardbook.binding.layers import stacked
from guardbook.binding.limits import Limits, half_spine, limits_of
from guardbook.binding.named_areas import panels_on
from guardbook.binding.planes import PLANES, PlaneName, plane_name
from guardbook.binding.scene_items import Laid, Setting, item_of, laid_out, on_other_face, with_its_face
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.stations_in_use import COVER_PLANES, SPINE_PLANES, registration_at, stations_on
from guardbook.binding.stays import Stay
from guardbook.records.host import HostVolume

_ORDER = list(PLANES)


class SettingOut:
    """The planes of one volume at one stage, and what lies on each of them."""

    def __init__(self, setting: Setting, state: HostState) -> None:
        self._setting = setting
        self._there = self._laid(state.pieces)
        stays = [stay for life in setting.lives.values() for stay in life.stays]
        here = [stay for stay in stays if stay.host == setting.host_iri]
        self._gone = self._laid(gone_by(here, setting.stage))
        self._limits: dict[PlaneName, Limits] = {}

    def _laid(self, places: Iterable[InPlace]) -> list[Laid]:
        return [laid for place in places for laid in laid_out(place, self._setting.host)]

    def planes(self) -> tuple[ScenePlane, ...]:
        """Give every plane that is known of, in a fixed order."""
        host = self._setting.host
        stated = [plane_name(part) for part in host.planes] if host else []
        used = [laid.plane for laid in (*self._there, *self._gone)]
        spine = [PlaneName("textblock-spine")] if host and host.stations else []
        named = {name for name in (*stated, *used, *self._items_by_plane, *spine) if name and name.is_one}
        return tuple(self._plane(name) for name in sorted(named, key=_plane_order))

    def unplaced(self) -> tuple[SceneItem, ...]:
        """Give the pieces that are there, but on no plane that is told."""
        items = [item_of(laid, None, self._setting) for laid in self._there if laid.plane is None]
        return tuple(sorted(items, key=lambda item: (item.name, item.piece, item.position or "")))

    def unplaced_gaps(self) -> tuple[SceneGap, ...]:
        """Give what is missing from no plane that is told."""
        there = NowThere(())
        gaps = [self._gap(laid, None, there) for laid in self._gone if laid.plane is None]
        return tuple(sorted(gaps, key=lambda gap: (gap.name, gap.piece)))

    def _plane(self, name: PlaneName) -> ScenePlane:
        limits = self.limits(name)
        items = stacked(self._items_by_plane.get(name, ()), name)
        there = NowThere(items)
        gaps = tuple(self._gap(laid, limits, there) for laid in self._gone if laid.plane == name)
        bare = bare_plane(self._setting.host, self._setting.stage, name, limits)
        return replace(bare, items=items, gaps=gaps, cut_later=self._cut_later(items, limits))

    @cached_property
    def _stays(self) -> dict[str, Stay]:
        return {laid.stay.piece: laid.stay for laid in self._there}

    def _cut_later(self, items: Iterable[SceneItem], limits: Limits) -> tuple[SceneGap, ...]:
        found: list[SceneGap] = []
        for item in items:
            life = self._setting.lives.get(item.piece)
            cuts = cuts_after(life, self._stays[item.piece], self._setting.stage)
            found.extend(cut_later(item, limits, cuts))
        return tuple(found)

    def limits(self, name: PlaneName) -> Limits:
        """Give the edges of a plane."""
        if name not in self._limits:
            shapes = self._outlines.get(name, {})
            found = limits_of(self._setting.host, name, shapes.get(True, ()), shapes.get(False, ()))
            self._limits[name] = found
        return self._limits[name]

    @cached_property
    def _outlines(self) -> dict[PlaneName, dict[bool, list[BaseGeometry]]]:
        """Give the measured outlines on each plane: of what it is a face of (True), and of other pieces."""
        found: dict[PlaneName, dict[bool, list[BaseGeometry]]] = defaultdict(lambda: defaultdict(list))
        for laid in self._there:
            if laid.plane is not None and laid.outline is not None:
                found[laid.plane][laid.is_sheet].append(laid.outline)
                if laid.is_sheet and (back := laid.plane.other_face):
                    found[back.plane][True].append(back.way.shape(laid.outline))
        return found

    @cached_property
    def _items_by_plane(self) -> dict[PlaneName, list[SceneItem]]:
        """Give the items of each plane; a cover, board or leaf that lies on one is seen on its back too."""
        found: dict[PlaneName, list[SceneItem]] = defaultdict(list)
        placed = {(laid.stay.piece, laid.plane) for laid in self._there}
        for laid in self._there:
            if laid.plane is None:
                continue
            item = self._item(laid, laid.plane)
            found[laid.plane].append(item)
            turned = on_other_face(item, laid, self._setting)
            if turned and (item.piece, turned[0]) not in placed:
                found[turned[0]].append(self._with_folds(turned[1], turned[0], laid))
        return found

    def _item(self, laid: Laid, plane: PlaneName) -> SceneItem:
        bare = item_of(laid, self.limits(plane), self._setting)
        return self._with_folds(with_its_face(bare, laid.stay, self._setting), plane, laid)

    def _with_folds(self, item: SceneItem, plane: PlaneName, laid: Laid) -> SceneItem:
        if item.is_sheet and plane.plane in COVER_PLANES:
            if not item.measured:
                return item
            return replace(item, folds=cover_folds(item, self._cover_size))
        if not item.measured or not laid.goes_over_an_edge:
            return item
        return replace(item, folds=(*item.folds, *edge_folds(item, self.limits(plane))))

    @cached_property
    def _cover_size(self) -> CoverSize:
        """Take the squares of the cover for the same on all sides as at the tail, where that is known."""
        host = self._setting.host
        found = registration_at(host, self._setting.stage)
        square = max(0.0, -float(found[0].dy)) if found else 0.0
        half = half_spine(host)
        width, height = (
            float(value) if value else None for value in (host and host.width, host and host.height)
        )
        return CoverSize(
            half_spine=half,
            head=height + 2 * square if height else None,
            fore_edge=half + width + square if half and width else None,
        )

    def _gap(self, laid: Laid, limits: Limits | None, now_there: NowThere) -> SceneGap:
        item = item_of(laid, limits, self._setting)
        return gap_of(laid.stay, item, now_there, self._setting.dossier)


def bare_plane(
    host: HostVolume | None, stage: int, name: PlaneName, limits: Limits | None = None
) -> ScenePlane:
    """Give a plane with nothing on it but what the record of the volume says."""
    limits = limits or limits_of(host, name)
    return ScenePlane(
        plane=name,
        left=limits.left,
        bottom=limits.bottom,
        right=limits.right,
        top=limits.top,
        limits_from=limits.source,
        stations=stations_on(host, name, stage),
        half_spine=half_spine(host) if name.plane == "textblock-spine" else None,
        panels=panels_on(host, name, stage, limits) if name.plane in SPINE_PLANES else (),
    )


def _plane_order(name: PlaneName) -> tuple[object, ...]:
    side = {"upper": 0, "lower": 1}.get(name.side or "", 2)
    return _ORDER.index(name.plane), name.gathering or 0, name.leaf or 0, name.leaf_side or "", side
