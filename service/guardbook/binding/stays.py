"""A piece's stay in one volume: from which event to which, and how it lay there from stage to stage."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from shapely.geometry.base import BaseGeometry

from guardbook.binding.outlines import Shape
from guardbook.records.event import Event
from guardbook.records.placing import Placing, Position


@dataclass(frozen=True)
class Lying:
    """How a piece lay from a stage on (from the start, where that is None), and the event that says so."""

    stage: int | None
    event: str | None
    positions: tuple[Position, ...]
    shape: Shape

    def outline(self, position: Position) -> BaseGeometry | None:
        """Give the outline on the plane of one of the positions, or None where too little is known."""
        return self._outlines[position.id]

    @cached_property
    def _outlines(self) -> dict[str, BaseGeometry | None]:
        return {position.id: self.shape.on_plane(position) for position in self.positions}


@dataclass(frozen=True)
class Stay:
    """A piece in one volume from the stage `from_stage` up to, and not with, the stage `to_stage`.

    `described` are the placings that tell how it lay there: the one that put it there, then, where it was put
    back in its place, the one before. `placing` is None where no record says how it came there, `leaving` is
    None while it is there, and where it is overtaken by an event that has it somewhere else.
    """

    piece: str
    host: str
    described: tuple[Placing, ...] = ()
    from_stage: int | None = None
    lyings: tuple[Lying, ...] = ()
    leaving: Event | None = None
    to_stage: int | None = None

    @property
    def placing(self) -> Placing | None:
        """Give the placing that put the piece there, or None if there is no record of it."""
        return self.described[0] if self.described else None

    def said(self, field: str) -> Any:
        """Give what the placing, or the one it restores, says in a field; None or () if nothing."""
        values = [getattr(placing, field) for placing in self.described]
        return next((value for value in values if value not in (None, ())), values[-1] if values else None)

    def holds_at(self, stage: int) -> bool:
        """Say whether the piece was there at a stage."""
        begun = self.from_stage is None or self.from_stage <= stage
        return begun and (self.to_stage is None or stage < self.to_stage)

    def lying_at(self, stage: int) -> Lying | None:
        """Give how the piece lay at a stage, or None if it was not there."""
        if not self.holds_at(stage):
            return None
        until = [lying for lying in self.lyings if lying.stage is None or lying.stage <= stage]
        return until[-1] if until else None

    def lying_anew(self, lying: Lying) -> Stay:
        """Give the stay with a new way of lying."""
        return replace(self, lyings=(*self.lyings, lying))

    def ended(self, leaving: Event | None, stage: int | None) -> Stay:
        """Give the stay with its end."""
        return replace(self, leaving=leaving, to_stage=stage)
