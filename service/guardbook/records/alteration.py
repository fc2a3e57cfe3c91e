"""An alteration: a piece or a volume was trimmed, turned over, refolded, lined, cleaned or lost."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import rdf
from guardbook.records.event import Event, HostRef, PieceOrHostRef
from guardbook.records.host import StageRef
from guardbook.records.placing import Position
from guardbook.records.values import Millimetres, Outline, Scheme, Text


class Alteration(Event):
    """What was done to a piece or a volume, and its new size, outline (mm) or positions if these changed."""

    kind: ClassVar[str] = "alteration"

    target: PieceOrHostRef = rdf(required=True)
    host: HostRef | None = rdf()
    stage: StageRef | None = rdf()
    alteration_kind: Annotated[str, Scheme("alteration-kind")] | None = rdf()
    description: Text | None = rdf()
    height: Millimetres | None = rdf()
    width: Millimetres | None = rdf()
    outline: Outline | None = rdf()
    positions: tuple[Position, ...] = rdf(many=True)
