"""A move: a piece or a volume went to another place or into other hands."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import KeeperRef, rdf
from guardbook.records.event import Event, HostRef, PieceOrHostRef
from guardbook.records.values import Scheme, Text


class Move(Event):
    """Where a piece or volume went: moved, sold, lent, mounted in an album, destroyed, lost.

    `kept_with` says that a loose piece is kept with that volume (in its box or pocket).
    """

    kind: ClassVar[str] = "move"

    object: PieceOrHostRef = rdf(required=True)
    move_kind: Annotated[str, Scheme("move-kind")] | None = rdf()
    came_from: KeeperRef | None = rdf()
    went_to: KeeperRef | None = rdf()
    kept_with: HostRef | None = rdf()
    housing: Annotated[str, Scheme("housing")] | None = rdf()
    shelfmark: Text | None = rdf()
    place: Text | None = rdf()
    box_location: Text | None = rdf(visible="workshop")
