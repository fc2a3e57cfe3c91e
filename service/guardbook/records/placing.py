"""A placing: a piece came into a host at a position."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import Part, rdf
from guardbook.records.event import Event, FragmentRef, HostRef
from guardbook.records.host import StageRef
from guardbook.records.values import (
    Coordinate,
    Degrees,
    Factor,
    Flag,
    Integer,
    Number,
    Reference,
    Scheme,
    Text,
)

Side = Annotated[str, Scheme("side")]


class Position(Part):
    """Where and which way round a piece lies on a plane of its host.

    Point p of the piece falls on the plane at `t + s R(rotation) M p`, with t = (x, y) in mm, s = scale
    (1 where not said), rotation in degrees anticlockwise and M a mirroring about the piece's own vertical
    mid-line when `mirrored` (its front face is turned away from the viewer). Layers count from the text
    block outwards. Without x and y it still says plane, side, panel or gathering, and layer.
    """

    prefix: ClassVar[str] = "position"

    plane: Annotated[str, Scheme("plane")] | None = rdf()
    side: Side | None = rdf()
    host_face: Annotated[str, Scheme("face")] | None = rdf()
    edge: Annotated[str, Scheme("edge")] | None = rdf()
    panel: Number | None = rdf()
    gathering: Number | None = rdf()
    leaf: Number | None = rdf()
    leaf_side: Annotated[str, Scheme("leaf-side")] | None = rdf()
    x: Coordinate | None = rdf()
    y: Coordinate | None = rdf()
    rotation: Degrees | None = rdf()
    mirrored: Flag | None = rdf()
    scale: Factor | None = rdf()
    layer: Integer | None = rdf()
    visible_in_place: Annotated[str, Scheme("visibility-in-place")] | None = rdf()
    certainty: Annotated[str, Scheme("certainty")] | None = rdf()
    note: Text | None = rdf()


class Placing(Event):
    """A piece came into a host: position, function, fixing, way round, and whether it is original there.

    `outward_face` is the face of the piece that looks outwards, `writing_angle` the angle in degrees of its
    writing to the host's upright. A return names the separation it undoes.
    """

    kind: ClassVar[str] = "placing"

    piece: FragmentRef = rdf(required=True)
    host: HostRef = rdf(required=True)
    stage: StageRef | None = rdf()
    function: Annotated[str, Scheme("function")] | None = rdf()
    fixings: tuple[Annotated[str, Scheme("fixing")], ...] = rdf(many=True)
    fixing_note: Text | None = rdf()
    original_to_assembly: Annotated[str, Scheme("assembly")] | None = rdf()
    original_reason: Text | None = rdf()
    outward_face: Annotated[str, Scheme("piece-face")] | None = rdf()
    writing_angle: Degrees | None = rdf()
    folded: Text | None = rdf()
    layer_order: Text | None = rdf()
    sewing_relation: Text | None = rdf()
    edges_in_place: Text | None = rdf()
    positions: tuple[Position, ...] = rdf(many=True)
    undoes: Annotated[str, Reference(("separation",))] | None = rdf()
    return_kind: Annotated[str, Scheme("return-kind")] | None = rdf()
