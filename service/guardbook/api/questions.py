"""Questions about one record: where a piece sat, what a volume held, what is missing, what was saved."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query
from starlette.responses import Response

from guardbook.actions.check_record import check_record
from guardbook.actions.pieces_of_host import pieces_of_host
from guardbook.actions.record_history import compare_revisions, record_history, revision_of
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.api.addresses import Identifier, Kind, record_at
from guardbook.api.descriptions import answers
from guardbook.api.reply import Asked, json_reply
from guardbook.completeness.stages import STAGES

router = APIRouter(prefix="/api/records/{kind:kind}/{identifier}")
Number = Annotated[int, Path(ge=1, le=2**53, description="The number of a revision.", examples=[1])]
QueryNumber = Annotated[int, Query(ge=1, le=2**53, description="The number of a revision.", examples=[1])]


@router.get(
    "/where",
    tags=["Questions"],
    operation_id="whereItSat",
    responses=answers("Whereabouts", "Every place it had, in order, and where it is now."),
)
def where(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell where a piece sat at each stage, beside what, how it came and went, and where it is now."""
    return json_reply(where_it_sat(access, record_at(access, kind, identifier)))


@router.get(
    "/pieces",
    tags=["Questions"],
    operation_id="piecesOfHost",
    responses=answers("HostPieces", "Every piece that ever was in the volume, and where it is today."),
)
def pieces(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell which pieces ever were in a volume, and where each of them is now."""
    return json_reply(pieces_of_host(access, record_at(access, kind, identifier)))


@router.get(
    "/check",
    tags=["Questions"],
    operation_id="checkRecord",
    responses=answers("Report", "What is missing, why it matters, how to get it, and whether one still can."),
)
def check(
    access: Asked,
    kind: Kind,
    identifier: Identifier,
    stage: Annotated[
        str | None,
        Query(
            alias="for",
            description="The stage; each takes in those before it. Without it, the one that fits.",
            json_schema_extra={"enum": list(STAGES)},
        ),
    ] = None,
) -> Response:
    """Tell what is missing from the record, and from those that belong to it, at a stage of the work."""
    return json_reply(check_record(access, record_at(access, kind, identifier), stage))


@router.get(
    "/history",
    tags=["History"],
    operation_id="getHistory",
    responses=answers("Revision", "Every revision, the oldest first.", many=True),
)
def history(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """List who saved which revision when and what for; also of a record that was taken out."""
    return json_reply(record_history(access, record_at(access, kind, identifier)))


@router.get(
    "/history/{number}",
    tags=["History"],
    operation_id="getRevision",
    responses=answers("Record", "The record as it was."),
)
def revision(access: Asked, kind: Kind, identifier: Identifier, number: Number) -> Response:
    """Get the record as it was in one revision."""
    return json_reply(revision_of(access, record_at(access, kind, identifier), number).record)


@router.get(
    "/difference",
    tags=["History"],
    operation_id="compareRevisions",
    responses=answers("Difference", "What changed, in words, one change each."),
)
def difference(
    access: Asked,
    kind: Kind,
    identifier: Identifier,
    older: Annotated[
        int, Query(alias="from", ge=1, le=2**53, description="The older revision.", examples=[1])
    ],
    newer: Annotated[int, Query(alias="to", ge=1, le=2**53, description="The newer revision.", examples=[2])],
) -> Response:
    """Say in words what changed between two revisions of a record."""
    changes = compare_revisions(access, record_at(access, kind, identifier), older, newer)
    return json_reply({"from": older, "to": newer, "changes": changes})
