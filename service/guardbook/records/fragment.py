"""A fragment: a piece that is or was binding material, from a thread to a whole cover."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import AgentRef, KeeperRef, Part, Record, rdf
from guardbook.records.values import (
    Address,
    Coordinate,
    Count,
    Date,
    Degrees,
    Flag,
    Language,
    Millimetres,
    Number,
    Outline,
    Reference,
    Scheme,
    Text,
    WithinRecord,
)

Certainty = Annotated[str, Scheme("certainty")]
PieceFace = Annotated[str, Scheme("piece-face")]


class Series(Part):
    """Holes or folds made in one operation, and the use they belong to where that is known."""

    prefix: ClassVar[str] = "series"

    use: Annotated[str, Scheme("use")] | None = rdf()
    host: Annotated[str, Reference(("host",))] | None = rdf()
    certainty: Certainty | None = rdf()
    note: Text | None = rdf()


class Feature(Part):
    """A hole, fold, edge, stain or other trace, with its place on the piece.

    `x`, `y` are mm in the piece's own frame (origin at the tail-left corner, front face up); a fold or an
    edge runs on to `to_x`, `to_y`. It may go on across the joint, `continues_on` another piece or the volume
    itself, and a piece put over it later is one it `runs_under`.
    """

    prefix: ClassVar[str] = "feature"

    feature_kind: Annotated[str, Scheme("feature")] = rdf(required=True)
    x: Coordinate | None = rdf()
    y: Coordinate | None = rdf()
    to_x: Coordinate | None = rdf()
    to_y: Coordinate | None = rdf()
    diameter: Millimetres | None = rdf()
    face: PieceFace | None = rdf()
    goes_through: Flag | None = rdf()
    in_series: Annotated[str, WithinRecord("series")] | None = rdf()
    date_made: Date | None = rdf()
    date_reason: Text | None = rdf()
    continues_on: tuple[Annotated[str, Reference(("fragment", "host"))], ...] = rdf(many=True)
    runs_under: tuple[Annotated[str, Reference(("fragment",))], ...] = rdf(many=True)
    certainty: Certainty | None = rdf()
    note: Text | None = rdf()


class CarrierPlace(Part):
    """Where a piece lay in the leaf it was cut from, in that leaf's own frame (mm)."""

    prefix: ClassVar[str] = "carrier-place"

    carrier: Annotated[str, Reference(("carrier",))] = rdf(required=True)
    carrier_leaf: Text | None = rdf()
    leaf_side: Annotated[str, Scheme("leaf-side")] | None = rdf()
    x: Coordinate | None = rdf()
    y: Coordinate | None = rdf()
    rotation: Degrees | None = rdf()
    mirrored: Flag | None = rdf()
    first_line: Number | None = rdf()
    last_line: Number | None = rdf()
    certainty: Certainty | None = rdf()
    note: Text | None = rdf()


class Fragment(Record):
    """A piece that is or was binding material, of any size from a thread to a whole cover.

    Lengths are mm. The piece's own frame has its origin at the tail-left corner of its bounding box with
    `front_face` towards the viewer; `outline` is a polygon in that frame.
    """

    kind: ClassVar[str] = "fragment"

    extent: Annotated[str, Scheme("extent")] | None = rdf()
    seen_by: AgentRef | None = rdf()
    seen_when: Date | None = rdf()
    material: Annotated[str, Scheme("material")] | None = rdf()
    animal: Annotated[str, Scheme("animal")] | None = rdf()
    height: Millimetres | None = rdf()
    width: Millimetres | None = rdf()
    thickness: Millimetres | None = rdf()
    outline: Outline | None = rdf()
    front_face: PieceFace | None = rdf()
    condition: Text | None = rdf()
    features: tuple[Feature, ...] = rdf(many=True)
    series: tuple[Series, ...] = rdf(many=True)

    written_height: Millimetres | None = rdf()
    written_width: Millimetres | None = rdf()
    columns: Count | None = rdf()
    lines: Count | None = rdf()
    line_pitch: Millimetres | None = rdf()
    ruling: Text | None = rdf()
    chain_lines: Text | None = rdf()
    watermark: Text | None = rdf()
    script: Annotated[str, Scheme("script")] | None = rdf()
    text_languages: tuple[Language, ...] = rdf(many=True)
    notation: Annotated[str, Scheme("notation")] | None = rdf()
    decoration: Text | None = rdf()
    first_words: Text | None = rdf()
    text_identified: Text | None = rdf()
    reading_text: Text | None = rdf()
    hidden_face: Text | None = rdf()

    date_made: Date | None = rdf()
    date_reason: Text | None = rdf()
    place_made: Text | None = rdf()
    place_reason: Text | None = rdf()
    carrier_places: tuple[CarrierPlace, ...] = rdf(many=True)

    keeper: KeeperRef | None = rdf()
    shelfmark: Text | None = rdf()
    owner: KeeperRef | None = rdf()
    box_location: Text | None = rdf(visible="workshop")
    valuation: Text | None = rdf(visible="workshop")
    rights_holder: Text | None = rdf()
    licence: Address | None = rdf()
    citation: Text | None = rdf()
