"""The planes of a volume for a piece to be placed on."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.ground_for_placing import ground_for_placing
from guardbook.api.addresses import Identifier, record_at
from guardbook.api.descriptions import files
from guardbook.api.reply import Asked, json_reply

router = APIRouter(prefix="/api/records", tags=["Drawings"])


@router.get(
    "/host/{identifier}/ground",
    operation_id="groundOfHost",
    responses=files(
        "Planes with their edges, what lies on them, and lines to lay a piece against.", "application/json"
    ),
)
def ground(
    access: Asked,
    identifier: Identifier,
    stage: Annotated[
        int | None, Query(ge=1, le=2**53, description="The number of a stage; else as it stands.")
    ] = None,
    plane: Annotated[
        list[str], Query(description="More planes, such as `fold-7`, on which nothing lies yet; repeatable.")
    ] = [],  # noqa: B006  # FastAPI copies it
) -> Response:
    """Give the planes of a volume as they lie beneath a piece that is being placed, in mm."""
    return json_reply(ground_for_placing(access, record_at(access, "host", identifier), stage, plane))
