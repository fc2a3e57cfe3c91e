"""A host volume: a text block in its binding, with the planes, stations, gatherings and stages it had."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import KeeperRef, Part, Record, rdf
from guardbook.records.values import (
    Address,
    Coordinate,
    Count,
    Date,
    Flag,
    Millimetres,
    Number,
    Reference,
    Scheme,
    Text,
)

StageRef = Annotated[str, Reference(("host",), part="stage")]


class Stage(Part):
    """A state the volume was in: bound, reused, as received, after treatment; `number` gives the order."""

    prefix: ClassVar[str] = "stage"

    number: Number = rdf(required=True)
    stage_kind: Annotated[str, Scheme("stage-kind")] = rdf(required=True)
    name: Text | None = rdf()
    when: Date | None = rdf()
    date_reason: Text | None = rdf()
    note: Text | None = rdf()


class Plane(Part):
    """A flat face of the host with its limits in mm (axes: see the table of planes in the docs).

    Which one it is: its kind, and for a fold the gathering, for a leaf its number and side, for a board
    the side.
    """

    prefix: ClassVar[str] = "plane"

    plane: Annotated[str, Scheme("plane")] = rdf(required=True)
    gathering: Number | None = rdf()
    leaf: Number | None = rdf()
    leaf_side: Annotated[str, Scheme("leaf-side")] | None = rdf()
    side: Annotated[str, Scheme("side")] | None = rdf()
    left: Coordinate | None = rdf()
    right: Coordinate | None = rdf()
    bottom: Coordinate | None = rdf()
    top: Coordinate | None = rdf()
    note: Text | None = rdf()


class Station(Part):
    """A sewing station: where the thread goes through the folds, in mm from the tail."""

    prefix: ClassVar[str] = "station"

    y: Millimetres = rdf(required=True)
    station_kind: Annotated[str, Scheme("station-kind")] | None = rdf()
    from_stage: StageRef | None = rdf()
    to_stage: StageRef | None = rdf()
    note: Text | None = rdf()


class Gathering(Part):
    """A gathering: its number from the front and how many leaves it has."""

    prefix: ClassVar[str] = "gathering"

    number: Number = rdf(required=True)
    leaf_count: Count | None = rdf()
    thickness: Millimetres | None = rdf()
    note: Text | None = rdf()


class Registration(Part):
    """How the cover lay on the text block at a stage: add dx, dy (mm) to cover coordinates."""

    prefix: ClassVar[str] = "registration"

    stage: StageRef = rdf(required=True)
    dx: Coordinate = rdf(required=True)
    dy: Coordinate = rdf(required=True)
    certainty: Annotated[str, Scheme("certainty")] | None = rdf()


class HostVolume(Record):
    """A volume that held or holds pieces: text block, binding, planes, stations, stages, keeper, shelfmark.

    Lengths are mm, of the leaf (height, width), the text block's thickness and the cover's spine width.
    """

    kind: ClassVar[str] = "host"

    shelfmark: Text | None = rdf()
    keeper: KeeperRef | None = rdf()
    owner: KeeperRef | None = rdf()
    content: Text | None = rdf()
    text_date: Date | None = rdf()
    text_date_reason: Text | None = rdf()
    text_place: Text | None = rdf()
    binding_kind: Annotated[str, Scheme("binding-kind")] | None = rdf()
    binding_date: Date | None = rdf()
    binding_date_reason: Text | None = rdf()
    bound_blank: Flag | None = rdf()
    book_format: Annotated[str, Scheme("format")] | None = rdf()
    height: Millimetres | None = rdf()
    width: Millimetres | None = rdf()
    thickness: Millimetres | None = rdf()
    spine_width: Millimetres | None = rdf()
    panels: Count | None = rdf()
    condition: Text | None = rdf()
    stages: tuple[Stage, ...] = rdf(many=True)
    planes: tuple[Plane, ...] = rdf(many=True)
    stations: tuple[Station, ...] = rdf(many=True)
    gatherings: tuple[Gathering, ...] = rdf(many=True)
    registrations: tuple[Registration, ...] = rdf(many=True)
    box_location: Text | None = rdf(visible="workshop")
    valuation: Text | None = rdf(visible="workshop")
    rights_holder: Text | None = rdf()
    licence: Address | None = rdf()
