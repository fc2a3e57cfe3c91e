"""What a manifest is made from: groups of faces, and what is told of the volume or carrier as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from guardbook.binding.dossier import Dossier
from guardbook.binding.leaf_parts import RejoinedLeaf
from guardbook.binding.scene import Scene
from guardbook.exports.iiif.faces import Face, Pictured
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume

_DRAWN = "A piece of which there is no picture is drawn as its outline."


@dataclass(frozen=True, kw_only=True)
class Group:
    """The faces of a stage or leaf; `key` names it in addresses, `words` to a reader."""

    key: str
    words: str
    faces: Sequence[Face]


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a manifest says of the whole: a volume, carrier or piece, in words and by facts, and who keeps it.

    `pictures` are shown after all faces, as they were taken.
    """

    subject: Record
    label: str
    summary: str
    facts: Mapping[str, Iterable[str | None]]
    keepers: Iterable[str | None]
    part: str | None = None
    pictures: Sequence[Pictured] = ()


def told_of_host(host: HostVolume, scenes: Sequence[Scene], dossier: Dossier, part: str | None) -> Told:
    """Tell of a volume at some of its stages; `part` names the one stage in the address, if it is one."""
    pieces = {item.piece for scene in scenes for plane in scene.planes for item in plane.items}
    unplaced = {item.name: None for scene in scenes for item in scene.unplaced}
    at = f"at stage {scenes[0].stage} ({scenes[0].stage_words})" if part else f"at {_count(scenes, 'stage')}"
    return Told(
        subject=host,
        label=f"{host.display_title}, {at}",
        summary=f"The binding {at}, each face to scale with {_count(pieces, 'piece')} in place. {_DRAWN}",
        facts={
            "Shelfmark": [host.shelfmark],
            "Keeper": [dossier.name(host.keeper) if host.keeper else None],
            "Content": [host.content],
            "Stages": [_stage(scene) for scene in scenes],
            "Pieces whose place is not known": unplaced,
        },
        keepers=[host.keeper],
        part=part,
    )


def told_of_carrier(
    carrier: Carrier, leaves: Sequence[RejoinedLeaf], dossier: Dossier, part: str | None
) -> Told:
    """Tell of some leaves of a carrier; `part` names the one leaf in the address, if it is one."""
    pieces = [piece for leaf in leaves for piece in leaf.pieces]
    found = [dossier.piece(piece.piece) for piece in pieces]
    held = {host.shelfmark or host.name: None for piece in pieces for host in piece.hosts}
    of_leaf = f", leaf {leaves[0].leaf}" if part else ""
    return Told(
        subject=carrier,
        label=f"{carrier.display_title}{of_leaf}, rejoined",
        summary=f"{_count({piece.piece for piece in pieces}, 'known piece')}, each where it was cut from the "
        f"leaf, to scale, with what is missing outlined. {_DRAWN}",
        facts={
            "Content": [carrier.content],
            "Made": [carrier.date_made],
            "Volumes that held the pieces": held,
            "Pieces whose place is not known": {one.name: None for leaf in leaves for one in leaf.unplaced},
        },
        keepers=[carrier.keeper, *(piece.keeper for piece in found if isinstance(piece, Fragment))],
        part=part,
    )


def told_of_piece(piece: Fragment, pictures: Sequence[Pictured], dossier: Dossier) -> Told:
    """Tell of a piece by itself; `pictures` are those that cannot be laid out to scale."""
    size = [
        f"{name} {value} mm" for name, value in (("height", piece.height), ("width", piece.width)) if value
    ]
    return Told(
        subject=piece,
        label=piece.display_title,
        summary=f"The piece by itself, to scale as far as its size is known. {_DRAWN}",
        facts={
            "Shelfmark": [piece.shelfmark],
            "Keeper": [dossier.name(piece.keeper) if piece.keeper else None],
            "Content": [piece.text_identified],
            "Made": [piece.date_made],
            "Size": [", ".join(size)],
        },
        keepers=[piece.keeper],
        pictures=pictures,
    )


def _stage(scene: Scene) -> str:
    when = next((one.when for one in scene.stages if one.number == scene.stage), None)
    return f"{scene.stage}: {scene.stage_words}" + (f" ({when})" if when else "")


def _count(things: Sequence[object] | set[str], word: str) -> str:
    return f"{len(things)} {word}" + ("" if len(things) == 1 else "s")
