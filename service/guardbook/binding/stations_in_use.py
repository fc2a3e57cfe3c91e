"""The sewing stations of a volume in use at a stage, and how its cover then lay on the text block."""

from __future__ import annotations

from guardbook.binding.planes import PlaneName
from guardbook.binding.scene_parts import SceneStation
from guardbook.binding.transforms import PLANE_MIRROR, SAME, Affine, shift
from guardbook.records.host import HostVolume, Registration, Station

# the planes on which the sewing can be seen or felt
SEWN_PLANES = frozenset({"textblock-spine", "fold"})
COVER_PLANES = frozenset({"cover-outside", "cover-inside"})
SPINE_PLANES = COVER_PLANES | {"textblock-spine"}


def stations_at(host: HostVolume | None, stage: int) -> tuple[Station, ...]:
    """Give the stations in use at a stage, from the tail; the last stage named for one still uses it."""
    if host is None:
        return ()
    numbers = {f"{host.id}{part.id}": part.number for part in host.stages}
    used = [
        station
        for station in host.stations
        if numbers.get(station.from_stage or "", stage) <= stage <= numbers.get(station.to_stage or "", stage)
    ]
    return tuple(sorted(used, key=lambda station: (station.y, station.id)))


def registration_at(host: HostVolume | None, stage: int) -> tuple[Registration, int] | None:
    """Give how the cover lay at a stage and the stage that is said for: this, or the last before, or None."""
    if host is None:
        return None
    numbers = {f"{host.id}{part.id}": part.number for part in host.stages}
    said = [(numbers.get(one.stage, stage + 1), one) for one in host.registrations]
    until = [(number, one) for number, one in said if number <= stage]
    number, found = max(until, key=lambda pair: (pair[0], pair[1].id), default=(0, None))
    return None if found is None else (found, number)


def cover_to_text_block(host: HostVolume | None, stage: int) -> Affine | None:
    """Give the way from the outside of the cover to the back of the text block, or None if none is stated."""
    found = registration_at(host, stage)
    return shift(float(found[0].dx), float(found[0].dy)) if found else None


def way_to_text_block(host: HostVolume | None, plane: PlaneName, stage: int) -> Affine | None:
    """Give the way from a plane to the back of the text block: from both faces of the cover, or None."""
    if plane.plane == "textblock-spine":
        return SAME
    cover = cover_to_text_block(host, stage) if plane.plane in COVER_PLANES else None
    if cover is None:
        return None
    return cover.after(PLANE_MIRROR) if plane.plane == "cover-inside" else cover


def stations_on(host: HostVolume | None, plane: PlaneName, stage: int) -> tuple[SceneStation, ...]:
    """Give the stations as they fall on a plane: in a fold, on the spine, and through to the cover."""
    way = SAME if plane.plane in SEWN_PLANES else way_to_text_block(host, plane, stage)
    if host is None or way is None:
        return ()
    back = way.inverse()
    return tuple(
        SceneStation(
            id=f"{host.id}{station.id}", y=back.point(0, float(station.y))[1], kind=station.station_kind
        )
        for station in stations_at(host, stage)
    )
