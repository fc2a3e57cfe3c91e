"""What pieces prove, and when; what can be examined only now; options side by side."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.date_record import date_record
from guardbook.actions.decide import decide
from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.api.addresses import Identifier, Kind, record_at
from guardbook.api.descriptions import answers
from guardbook.api.reply import Asked, json_reply

router = APIRouter(prefix="/api/records/{kind:kind}/{identifier}", tags=["Evidence"])


@router.get("/dates", operation_id="dateRecord", responses=answers("Dating", "Each bound with what sets it."))
def dates(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell the earliest and latest date of each event of a volume or piece, and what sets each bound."""
    return json_reply(date_record(access, record_at(access, kind, identifier)))


@router.get(
    "/evidence", operation_id="weighEvidence", responses=answers("Evidence", "Readings, how far each goes.")
)
def evidence(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell what the traces of a volume or piece may mean, how surely, and what would decide it."""
    return json_reply(weigh_evidence(access, record_at(access, kind, identifier)))


@router.get(
    "/examinations",
    operation_id="examinationsOfEvent",
    responses=answers("Examinations", "What can be done when."),
)
def examinations(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell what can be examined only before or while a piece is out, and the cautions that apply."""
    return json_reply(examinations_of_event(access, record_at(access, kind, identifier)))


@router.get(
    "/decision", operation_id="decideRecord", responses=answers("DecisionSheet", "The options side by side.")
)
def decision(
    access: Asked,
    kind: Kind,
    identifier: Identifier,
    weight: Annotated[
        list[str],
        Query(
            description="A weight to try out, `criterion:number`; repeatable. Nothing is saved.",
            examples=["criterion-1:2.5"],
        ),
    ] = [],  # noqa: B006  # FastAPI copies it
) -> Response:
    """Lay the options of a decision side by side, with what would change their order."""
    weights = {name: text for name, _colon, text in (one.partition(":") for one in weight)}
    return json_reply(decide(access, record_at(access, kind, identifier), weights))
