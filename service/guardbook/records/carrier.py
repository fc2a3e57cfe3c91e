"""A carrier of origin: the book, roll or document that pieces were cut from."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import KeeperRef, Record, rdf
from guardbook.records.values import Address, Count, Date, Language, Millimetres, Scheme, Text


class Carrier(Record):
    """The book, roll or document pieces were cut from. Leaf and written space in mm; line pitch in mm."""

    kind: ClassVar[str] = "carrier"

    carrier_kind: Annotated[str, Scheme("carrier-kind")] | None = rdf()
    content: Text | None = rdf()
    material: Annotated[str, Scheme("material")] | None = rdf()
    date_made: Date | None = rdf()
    date_reason: Text | None = rdf()
    place_made: Text | None = rdf()
    place_reason: Text | None = rdf()
    height: Millimetres | None = rdf()
    width: Millimetres | None = rdf()
    written_height: Millimetres | None = rdf()
    written_width: Millimetres | None = rdf()
    columns: Count | None = rdf()
    lines: Count | None = rdf()
    line_pitch: Millimetres | None = rdf()
    ruling: Text | None = rdf()
    script: Annotated[str, Scheme("script")] | None = rdf()
    text_languages: tuple[Language, ...] = rdf(many=True)
    text_identified: Text | None = rdf()
    known_text: Text | None = rdf()
    keeper: KeeperRef | None = rdf()
    shelfmark: Text | None = rdf()
    rights_holder: Text | None = rdf()
    licence: Address | None = rdf()
