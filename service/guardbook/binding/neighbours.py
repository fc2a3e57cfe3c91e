"""What lay over, under, beside and behind a piece in its volume at one stage."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import HostState, InPlace
from guardbook.binding.planes import PlaneName, plane_name
from guardbook.records.placing import Position

# below this, outlines only touch; within this distance a piece lies beside another (common practice)
OVERLAP_MM2 = 1.0
BESIDE_MM = 10.0
# the fields that name an area of a volume, the narrower ones after the plane
_AREA = ("side", "host_face", "edge", "panel", "gathering", "leaf", "leaf_side")
_ORDER = ("over", "under", "overlapping", "behind", "beside")


@dataclass(frozen=True)
class Neighbour:
    """Another piece and how it lies to the one asked about.

    `relation` is over (it lies over ours as one looks at the plane), under, overlapping (which is over is not
    known), behind (on the other face of the same sheet) or beside. `overlap_mm2` and `gap_mm` are None where
    outlines are missing and the two only share a named area.
    """

    piece: str
    name: str
    relation: str
    plane: str | None
    layer: int | None
    overlap_mm2: float | None = None
    gap_mm: float | None = None

    @property
    def measured(self) -> bool:
        """Say whether the relation comes from outlines, not from a named area alone."""
        return self.overlap_mm2 is not None or self.gap_mm is not None

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; areas in mm2, gaps in mm."""
        return {
            "piece": self.piece,
            "name": self.name,
            "relation": self.relation,
            "plane": self.plane,
            "layer": self.layer,
            "overlapMm2": None if self.overlap_mm2 is None else round(self.overlap_mm2, 1),
            "gapMm": None if self.gap_mm is None else round(self.gap_mm, 1),
            "measured": self.measured,
        }


@dataclass(frozen=True)
class _Laid:
    """One position of a piece in place."""

    piece: str
    place: InPlace
    position: Position
    plane: PlaneName | None


def neighbours(state: HostState, piece: str, dossier: Dossier) -> tuple[Neighbour, ...]:
    """Give what lay near a piece at a stage: over, under, overlapping, behind, beside, in that order."""
    laid = [_Laid(p.stay.piece, p, pos, plane_name(pos)) for p in state.pieces for pos in p.lying.positions]
    ours = [one for one in laid if one.piece == piece]
    others = [one for one in laid if one.piece != piece]
    found: dict[tuple[str, str | None], Neighbour] = {}
    for own, other in product(ours, others):
        near = _relation(own, other, dossier)
        if near and _rank(near) < _rank(found.get((near.piece, near.plane))):
            found[near.piece, near.plane] = near
    return tuple(sorted(found.values(), key=lambda near: (_rank(near), near.name, near.piece)))


def _rank(near: Neighbour | None) -> int:
    return len(_ORDER) if near is None else _ORDER.index(near.relation)


def _relation(own: _Laid, other: _Laid, dossier: Dossier) -> Neighbour | None:
    if own.plane and other.plane and own.plane != other.plane:
        return _behind(own, other, dossier)
    mine = own.place.lying.outline(own.position)
    theirs = other.place.lying.outline(other.position)
    if mine is None or theirs is None or own.plane is None or other.plane is None:
        return _near(own, other, dossier) if _same_area(own, other) else None
    if not own.plane.is_one:
        return None
    overlap = mine.intersection(theirs).area
    if overlap > OVERLAP_MM2:
        return _near(own, other, dossier, overlap=overlap)
    gap = mine.distance(theirs)
    return _near(own, other, dossier, gap=gap) if gap <= BESIDE_MM else None


def _near(
    own: _Laid, other: _Laid, dossier: Dossier, overlap: float | None = None, gap: float | None = None
) -> Neighbour:
    relation = "beside" if gap is not None else _over_or_under(own, other)
    plane = own.plane or other.plane
    return Neighbour(
        piece=other.piece,
        name=dossier.name(other.piece),
        relation=relation,
        plane=plane.plane if plane else None,
        layer=other.position.layer,
        overlap_mm2=overlap,
        gap_mm=gap,
    )


def _over_or_under(own: _Laid, other: _Laid) -> str:
    """Compare layers, which count outwards: on a plane seen from inside the outer one lies underneath."""
    mine, theirs = own.position.layer, other.position.layer
    if mine is None or theirs is None or mine == theirs:
        return "overlapping"
    plane = own.plane or other.plane
    nearer_is_outer = plane is None or plane.axes.outwards_is_nearer
    return "over" if (theirs > mine) == nearer_is_outer else "under"


def _behind(own: _Laid, other: _Laid, dossier: Dossier) -> Neighbour | None:
    """Tell of a piece on the other face of the same sheet."""
    back = own.plane.other_face if own.plane and own.plane.is_one else None
    if back is None or back.plane != other.plane:
        return None
    mine = own.place.lying.outline(own.position)
    theirs = other.place.lying.outline(other.position)
    if mine is None or theirs is None:
        return None
    overlap = back.way.shape(mine).intersection(theirs).area
    if overlap <= OVERLAP_MM2:
        return None
    name, layer = dossier.name(other.piece), other.position.layer
    return Neighbour(other.piece, name, "behind", back.plane.plane, layer, overlap)


def _same_area(own: _Laid, other: _Laid) -> bool:
    """Say whether two positions name the same area; a whole plane takes in each of its parts."""
    pairs = [(getattr(own.position, name), getattr(other.position, name)) for name in _AREA]
    both = [mine == theirs for mine, theirs in pairs if mine is not None and theirs is not None]
    if own.plane and other.plane:
        return own.plane.is_one and all(both)
    return bool(both) and all(both)
