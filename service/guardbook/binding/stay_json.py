"""Stays as plain data for JSON: lengths as written are texts, so that no digit of them is lost."""

from __future__ import annotations

from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.binding.stays import Lying, Stay
from guardbook.records.event import Event
from guardbook.records.host import Stage
from guardbook.records.placing import Position


def stage_json(stage: Stage) -> dict[str, Any]:
    """Give a stage."""
    return {"number": stage.number, "kind": stage.stage_kind, "name": stage.name, "when": stage.when}


def event_json(event: Event) -> dict[str, Any]:
    """Give what an event is called by."""
    return {"id": event.id, "kind": event.kind, "when": event.when, "host": getattr(event, "host", None)}


def lying_json(lying: Lying) -> dict[str, Any]:
    """Give how a piece lay: its size then, and its positions with the bounds of its outline on the plane."""
    return {
        "size": {
            "height": None if lying.shape.height is None else format(lying.shape.height, "f"),
            "width": None if lying.shape.width is None else format(lying.shape.width, "f"),
            "outline": lying.shape.outline,
        },
        "saidBy": lying.event,
        "positions": [_position_json(position, lying) for position in lying.positions],
    }


def _position_json(position: Position, lying: Lying) -> dict[str, Any]:
    outline = lying.outline(position)
    bounds = None
    if outline is not None:
        bounds = dict(
            zip(("left", "bottom", "right", "top"), (round(b, 2) for b in outline.bounds), strict=True)
        )
    return {**position.model_dump(mode="json", by_alias=True, exclude_none=True), "bounds": bounds}


def stay_json(stay: Stay, dossier: Dossier) -> dict[str, Any]:
    """Give a stay: its volume, its first and last stage and event, and what is said of the piece in place."""
    host = dossier.host(stay.host)
    stages = {stage.number: stage_json(stage) for stage in host.stages} if host else {}
    angle = stay.said("writing_angle")
    return {
        "host": stay.host,
        "hostName": dossier.name(stay.host),
        "hostShelfmark": host.shelfmark if host else None,
        "fromStage": stages.get(stay.from_stage or 0),
        "toStage": stages.get(stay.to_stage or 0),
        "putBy": event_json(stay.placing) if stay.placing else None,
        "takenBy": event_json(stay.leaving) if stay.leaving else None,
        "function": stay.said("function"),
        "fixings": list(stay.said("fixings") or ()),
        "fixingNote": stay.said("fixing_note"),
        "outwardFace": stay.said("outward_face"),
        "writingAngle": None if angle is None else format(angle, "f"),
        "folded": stay.said("folded"),
        "originalToAssembly": stay.said("original_to_assembly"),
        "evidence": stay.said("evidence"),
    }
