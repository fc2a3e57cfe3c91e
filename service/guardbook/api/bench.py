"""The overview for the workshop."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.bench import LISTS, bench
from guardbook.api.descriptions import answers
from guardbook.api.reply import Workshop, json_reply

router = APIRouter(prefix="/api/bench", tags=["Questions"])


@router.get(
    "",
    operation_id="getBench",
    responses=answers("Bench", "Lists of pieces and volumes, the most urgent first."),
)
def overview(
    access: Workshop,
    only: Annotated[
        str | None,
        Query(
            alias="list",
            description="One of the lists, as a long one.",
            json_schema_extra={"enum": list(LISTS)},
        ),
    ] = None,
) -> Response:
    """Tell what is open on the bench, what is about to be lost, what clashes, what is away or not known."""
    return json_reply(bench(access, only))
