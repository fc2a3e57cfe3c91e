"""An image of a piece or a volume: its file, checksum, technique, scale and tie points to a plane."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import AgentRef, Part, Record, rdf
from guardbook.records.event import PieceOrHostRef
from guardbook.records.host import StageRef
from guardbook.records.values import (
    Address,
    Amount,
    Coordinate,
    Date,
    Factor,
    Flag,
    Number,
    Scheme,
    Sha256,
    Text,
)


class TiePoint(Part):
    """A point of the picture (pixels from top left) and the same point on the piece or plane (mm)."""

    prefix: ClassVar[str] = "tie"

    pixel_x: Amount = rdf(required=True)
    pixel_y: Amount = rdf(required=True)
    x: Coordinate = rdf(required=True)
    y: Coordinate = rdf(required=True)


class Image(Record):
    """A photograph, drawing or rubbing. `pixels_per_mm` is its scale; `sha256` is of the file's bytes."""

    kind: ClassVar[str] = "image"

    depicts: tuple[PieceOrHostRef, ...] = rdf(many=True)
    file: Text | None = rdf()
    address: Address | None = rdf()
    sha256: Sha256 | None = rdf()
    media_type: Text | None = rdf()
    pixel_width: Number | None = rdf()
    pixel_height: Number | None = rdf()
    technique: Annotated[str, Scheme("technique")] | None = rdf()
    face: Annotated[str, Scheme("piece-face")] | None = rdf()
    plane: Annotated[str, Scheme("plane")] | None = rdf()
    stage: StageRef | None = rdf()
    moment: Annotated[str, Scheme("moment")] | None = rdf()
    pixels_per_mm: Factor | None = rdf()
    scale_bar_in_view: Flag | None = rdf()
    tie_points: tuple[TiePoint, ...] = rdf(many=True)
    by: AgentRef | None = rdf()
    when: Date | None = rdf()
    rights_holder: Text | None = rdf()
    licence: Address | None = rdf()
