"""What pieces prove, and when; what can be examined only now; options side by side."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import Response

from guardbook.actions.before_lifting import before_lifting, go_ahead
from guardbook.actions.date_record import date_record
from guardbook.actions.decide import decide
from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.api.addresses import Identifier, Kind, record_at
from guardbook.api.descriptions import answers
from guardbook.api.examples import REVISION
from guardbook.api.preconditions import IfMatch, revision_in
from guardbook.api.reply import Asked, Workshop, json_reply
from guardbook.api.saving import SavingQuery

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


@router.get(
    "/before-lifting",
    operation_id="beforeLifting",
    responses=answers("Gate", "What is open before a removal."),
)
def before(access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Tell what is not recorded, decided or consented to before a piece is lifted, and what to mind."""
    return json_reply(before_lifting(access, record_at(access, kind, identifier)))


@router.post(
    "/lifted",
    operation_id="goAhead",
    responses=answers("Revision", "The removal as one that was made.", 200, REVISION, changes=True),
)
def lifted(
    access: Workshop,
    *,
    kind: Kind,
    identifier: Identifier,
    saving: SavingQuery,
    when: Annotated[
        str,
        Query(min_length=1, max_length=100, description="The day of the lifting.", examples=["2025-11-24"]),
    ],
    because: Annotated[
        str, Query(max_length=10_000, description="Why it goes ahead; needed where anything is open.")
    ] = "",
    if_match: IfMatch = None,
) -> Response:
    """Have a planned removal become one that was made. What was open is kept with it, and the reason."""
    saved = go_ahead(
        access,
        record_at(access, kind, identifier),
        started_from=revision_in(if_match),
        when=when,
        because=because,
        who=saving.who,
        sure=saving.sure,
    )
    return json_reply(saved, headers={"ETag": f'"{saved.number}"'})
