"""Draw a volume for a report on paper: as it was received and as it stands, or a piece where it last sat."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from contextlib import suppress
from dataclasses import replace

from guardbook.actions.draw_in_place import draw_in_place
from guardbook.actions.draw_stage import StageDrawn, draw_stage
from guardbook.binding.drawing.plane import plane_key_words
from guardbook.binding.drawing.which import draw
from guardbook.binding.pieces import PieceTold
from guardbook.binding.plane_keys import plane_called, plane_key
from guardbook.binding.scene_planes import ScenePlane
from guardbook.binding.whereabouts import Whereabouts
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.paper.plates import Drawings, KeyLine, PlaceSheet, StageSheet
from guardbook.exports.paper.treatment import received_stage
from guardbook.records.host import HostVolume

# what is asked about is always drawn; other planes only up to so many
PLANES_SHOWN = 2


def drawn_for(
    access: Access,
    host: HostVolume | None,
    pieces: Iterable[PieceTold],
    asked: Collection[str],
    marked: str | None,
) -> Drawings:
    """Draw a volume as it was received and as it stands.

    Drawn are the planes on which most pieces that are `asked` about (IRIs) were measured, then those with
    most measured; where a piece is `marked` only those that it lay on, and it is outlined boldly. The pieces
    told of that lie on none of them are named as not drawn.
    """
    if host is None:
        return Drawings()
    try:
        standing = draw_stage(access, host.id)
    except WrongUse:
        return Drawings()
    received = received_stage(host)
    is_treated = received is not None and received < standing.scene.stage
    first = draw_stage(access, host.id, received) if is_treated else standing
    keys = _telling(first.scene.planes, asked, marked)
    return Drawings(
        before=_sheets(access, host, received, keys, marked) if is_treated else (),
        after=_sheets(access, host, None, keys, marked),
        not_drawn=_not_drawn(first, keys, pieces),
    )


def drawn_in_place(access: Access, told: Whereabouts) -> PlaceSheet | None:
    """Draw a piece where it last sat, outlined boldly; None where nothing can be drawn."""
    found = draw_in_place(access, told)
    return _place_sheet(found[1], told.piece) if found else None


def drawn_as_received(access: Access, host: HostVolume) -> PlaceSheet | None:
    """Draw a volume as it was received, or as it stands; None where nothing can be drawn."""
    try:
        return _place_sheet(draw_stage(access, host.id, received_stage(host)), None)
    except WrongUse:
        return None


def _place_sheet(drawn: StageDrawn, piece: str | None) -> PlaceSheet:
    plane = plane_called(drawn.key)
    svg = draw(drawn.scene, drawn.key, replace(drawn.look, bare=True, narrow=True))
    key = (
        KeyLine(letter, words, is_marked=about == piece)
        for letter, words, about in plane_key_words(drawn.scene, plane, drawn.look)
    )
    words = next(one.words for one in drawn.others if one.key == drawn.key)
    return PlaceSheet(svg=svg, stage=drawn.scene.stage_words, plane=words, key=tuple(key))


def _telling(planes: Iterable[ScenePlane], asked: Collection[str], marked: str | None) -> tuple[str, ...]:
    """Name the planes worth drawing: where nothing is measured, or not what is marked, nothing is seen."""
    measured = [(plane, _measured(plane)) for plane in planes]
    found = [(plane, pieces) for plane, pieces in measured if (marked in pieces if marked else pieces)]
    found.sort(key=lambda one: (-len(one[1] & set(asked)), -len(one[1])))
    return tuple(plane_key(plane.plane) for plane, _pieces in found[:PLANES_SHOWN])


def _measured(plane: ScenePlane) -> set[str]:
    """Give the pieces with a measured place on a plane, and those gone from one."""
    return {
        *(one.piece for one in plane.items if one.measured and one.outline is not None),
        *(one.piece for one in plane.gaps if one.outline is not None),
    }


def _not_drawn(drawn: StageDrawn, keys: Collection[str], pieces: Iterable[PieceTold]) -> tuple[str, ...]:
    """Give the pieces in the volume at a stage that lie on none of the planes drawn."""
    planes = [plane for plane in drawn.scene.planes if plane_key(plane.plane) in keys]
    shown = {item.piece for plane in planes for item in plane.items}
    there = (one for one in pieces if any(stay.holds_at(drawn.scene.stage) for stay in one.stays))
    return tuple(one.piece for one in there if one.piece not in shown)


def _sheets(
    access: Access, host: HostVolume, stage: int | None, keys: Iterable[str], marked: str | None
) -> tuple[StageSheet, ...]:
    return tuple(sheet for key in keys for sheet in _sheet(access, host, stage, key, marked))


def _sheet(
    access: Access, host: HostVolume, stage: int | None, key: str, marked: str | None
) -> Iterator[StageSheet]:
    """Draw one plane, where there is one of it at that stage."""
    with suppress(WrongUse):
        drawn = draw_stage(access, host.id, stage, key, id_prefix=f"s{stage or 0}-{key}", marked=marked)
        words = next(one.words for one in drawn.others if one.key == key)
        yield StageSheet(
            key=key, wide=drawn.svg, narrow=drawn.narrow(), stage=drawn.scene.stage_words, plane=words
        )
