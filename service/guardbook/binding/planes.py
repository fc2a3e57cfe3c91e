"""The flat planes of a volume: their axes, which is the mirror of which, and which one a position is on.

All planes have y = 0 at the tail and +y towards the head. Layers count from the text block outwards, in a
fold from its inside outwards: on a plane looked at from outside, and on a leaf, a higher layer lies over a
lower one, on a plane looked at from inside it lies under it.

Where +x runs towards the fore-edge, it runs to the viewer's left on some planes: the inside of the upper
board, the outside of the lower one, the verso of a leaf. There the plane is seen reversed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, NamedTuple

from guardbook.binding.plane_phrases import heading_of, on_plane
from guardbook.binding.transforms import PLANE_MIRROR, SAME, Affine
from guardbook.records.host import Plane
from guardbook.records.placing import Position
from guardbook.wording import said_later


@dataclass(frozen=True, kw_only=True)
class PlaneAxes:
    """One kind of plane: what x and y measure from and towards, and its mirror.

    `centred` is true where pieces lie on both sides of x = 0.
    `named_by` are the fields that tell two planes of this kind in one volume apart, `reversed_for` the values
    of these for which +x runs to the viewer's left. `mirror_of` is the plane that shows the other face of the
    same sheet with x turned into -x, `back_to` the one that shows it with the same x. `outwards_is_nearer` is
    true where what lies further out from the text block lies nearer to the viewer.
    """

    slug: str
    centred: bool = False
    x_zero: str
    x_towards: str
    x_away: str
    y_zero: str
    y_towards: str = said_later("the head")
    named_by: tuple[str, ...] = ()
    reversed_for: frozenset[str] = frozenset()
    mirror_of: str | None = None
    back_to: str | None = None
    outwards_is_nearer: bool = True


_TABLE = (
    PlaneAxes(
        slug="cover-outside",
        centred=True,
        x_zero=said_later("the centre of the spine"),
        x_towards=said_later("the upper board"),
        x_away=said_later("the lower board"),
        y_zero=said_later("the tail edge"),
        mirror_of="cover-inside",
    ),
    PlaneAxes(
        slug="cover-inside",
        centred=True,
        x_zero=said_later("the centre of the spine"),
        x_towards=said_later("the lower board"),
        x_away=said_later("the upper board"),
        y_zero=said_later("the tail edge"),
        mirror_of="cover-outside",
        outwards_is_nearer=False,
    ),
    PlaneAxes(
        slug="textblock-spine",
        centred=True,
        x_zero=said_later("the centre of the spine"),
        x_towards=said_later("the upper side"),
        x_away=said_later("the lower side"),
        y_zero=said_later("the tail of the leaves"),
    ),
    PlaneAxes(
        slug="fold",
        centred=True,
        x_zero=said_later("the fold"),
        x_towards=said_later("the later leaf"),
        x_away=said_later("the earlier leaf"),
        y_zero=said_later("the tail"),
        named_by=("gathering",),
        outwards_is_nearer=False,
    ),
    PlaneAxes(
        slug="leaf",
        x_zero=said_later("the spine edge"),
        x_towards=said_later("the fore-edge"),
        x_away=said_later("the spine"),
        y_zero=said_later("the tail"),
        named_by=("leaf", "leaf_side"),
        reversed_for=frozenset({"verso"}),
        back_to="leaf",
    ),
    PlaneAxes(
        slug="board-outside",
        x_zero=said_later("the spine edge"),
        x_towards=said_later("the fore-edge"),
        x_away=said_later("the spine"),
        y_zero=said_later("the tail"),
        named_by=("side",),
        reversed_for=frozenset({"lower"}),
        back_to="board-inside",
    ),
    PlaneAxes(
        slug="board-inside",
        x_zero=said_later("the spine edge"),
        x_towards=said_later("the fore-edge"),
        x_away=said_later("the spine"),
        y_zero=said_later("the tail"),
        named_by=("side",),
        reversed_for=frozenset({"upper"}),
        back_to="board-outside",
        outwards_is_nearer=False,
    ),
)
PLANES: MappingProxyType[str, PlaneAxes] = MappingProxyType({axes.slug: axes for axes in _TABLE})


@dataclass(frozen=True)
class PlaneName:
    """One plane of one volume: its kind, and what tells it apart from others of its kind."""

    plane: str
    gathering: int | None = None
    leaf: int | None = None
    leaf_side: str | None = None
    side: str | None = None

    @property
    def axes(self) -> PlaneAxes:
        """Give the axes of this kind of plane."""
        return PLANES[self.plane]

    @property
    def phrase(self) -> str:
        """Say where a piece on this plane lies: `in the fold of gathering 4`."""
        return on_plane(self.plane, self._named_by)

    @property
    def heading(self) -> str:
        """Head what is told of this plane: `The fold of gathering 4`."""
        return heading_of(self.plane, self._named_by)

    @property
    def _named_by(self) -> dict[str, Any]:
        return {name: getattr(self, name) for name in self.axes.named_by}

    @property
    def is_one(self) -> bool:
        """Say whether all is said that tells it apart from other planes of its kind."""
        return None not in self._named_by.values()

    @property
    def is_seen_reversed(self) -> bool:
        """Say whether +x runs to the viewer's left on this plane."""
        return bool({self.side, self.leaf_side} & self.axes.reversed_for)

    @property
    def other_face(self) -> OtherFace | None:
        """Give the plane that shows the other face of the same sheet, and the way there, or None.

        >>> PlaneName("cover-outside").other_face.way.point(12, 40)
        (-12, 40)
        """
        if self.axes.mirror_of:
            return OtherFace(replace(self, plane=self.axes.mirror_of), PLANE_MIRROR)
        if self.axes.back_to is None:
            return None
        turned = {"recto": "verso", "verso": "recto"}.get(self.leaf_side or "")
        return OtherFace(replace(self, plane=self.axes.back_to, leaf_side=turned), SAME)


class OtherFace(NamedTuple):
    """The plane on the back of another, and the mapping of coordinates from the one to the other."""

    plane: PlaneName
    way: Affine


def plane_name(part: Position | Plane) -> PlaneName | None:
    """Say which plane a position lies on or a part of a volume describes; None if it is not said."""
    axes = PLANES.get(part.plane or "")
    if axes is None:
        return None
    return PlaneName(axes.slug, **{name: getattr(part, name) for name in axes.named_by})
