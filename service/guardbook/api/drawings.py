"""Volumes as they were at a stage, two laid over each other, leaves rejoined: as data and as drawings."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.draw_laid_over import draw_laid_over
from guardbook.actions.draw_rejoined import draw_rejoined
from guardbook.actions.draw_stage import draw_stage
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.api.addresses import Identifier, record_at
from guardbook.api.descriptions import answers, files
from guardbook.api.reply import Asked, json_reply
from guardbook.errors import WrongUse

router = APIRouter(prefix="/api/records", tags=["Drawings"])
SVG_TYPE, PNG_TYPE = "image/svg+xml", "image/png"
DRAWN = ("application/json", SVG_TYPE, PNG_TYPE)


Form = Literal["json", "svg", "png"]
AnyForm = Annotated[Form, Query(alias="form", description="Data, or a drawing.")]
Stage = Annotated[int | None, Query(ge=1, le=2**53, description="The number of a stage; else as it stands.")]
PlaneKey = Annotated[str | None, Query(description="Such as `cover-outside`; else the most telling.")]


def _reply(form: Form, data: Any, drawn: Any) -> Response:
    match form:
        case "json":
            return json_reply(data)
        case "svg":
            return Response(drawn.svg, media_type=SVG_TYPE)
        case "png":
            return Response(drawn.png(), media_type=PNG_TYPE)


@router.get(
    "/host/{identifier}/stages",
    operation_id="stagesOfHost",
    responses=answers("StageTold", "Every stage, the first first.", many=True),
)
def stages(access: Asked, identifier: Identifier) -> Response:
    """List the stages of a volume, and how many pieces it held at each."""
    return json_reply(stages_of_host(access, record_at(access, "host", identifier)))


@router.get(
    "/host/{identifier}/scene",
    operation_id="sceneOfHost",
    responses=files("The scene as data, or drawn.", *DRAWN, schema="Scene"),
)
def scene(
    access: Asked,
    identifier: Identifier,
    stage: Stage = None,
    plane: PlaneKey = None,
    form: AnyForm = "json",
) -> Response:
    """Show a volume at a stage, every piece in its place."""
    drawn = draw_stage(access, record_at(access, "host", identifier), stage, plane)
    return _reply(form, drawn.scene, drawn)


@router.get(
    "/host/{identifier}/overlay",
    operation_id="overlayOfHosts",
    responses=files("Both as data, or drawn.", *DRAWN, schema="Overlay"),
)
def overlay(
    access: Asked,
    identifier: Identifier,
    *,
    other: Annotated[str, Query(alias="with", description="The other volume, or the same.")],
    stage: Stage = None,
    other_stage: Annotated[Stage, Query(alias="withStage")] = None,
    plane: PlaneKey = None,
    form: AnyForm = "json",
) -> Response:
    """Lay two stages or two uses of a cover over each other, and tell which accounts for each trace."""
    host = record_at(access, "host", identifier)
    drawn = draw_laid_over(access, host, other, stage_a=stage, stage_b=other_stage, plane=plane)
    return _reply(form, drawn.overlay, drawn)


@router.get(
    "/carrier/{identifier}/rejoined",
    operation_id="rejoinCarrier",
    responses=files("The leaves as data, or one drawn.", "application/json", SVG_TYPE, schema="Rejoined"),
)
def rejoined(
    access: Asked,
    identifier: Identifier,
    leaf: Annotated[int, Query(ge=1, le=2**53, description="Which leaf to draw, counted from 1.")] = 1,
    form: AnyForm = "json",
) -> Response:
    """Set the known pieces of a book that was cut up out in their places."""
    drawn = draw_rejoined(access, record_at(access, "carrier", identifier))
    if form == "json":
        return json_reply(drawn.rejoined)
    if form == "png" or leaf > len(drawn.svgs):
        raise WrongUse(message=f"Pieces of {len(drawn.svgs)} leaves are known; each is drawn as svg.")
    return Response(drawn.svgs[leaf - 1], media_type=SVG_TYPE)
