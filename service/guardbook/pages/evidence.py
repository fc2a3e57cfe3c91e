"""The pages of evidence: dates with their reasons, readings, examinations, the decision sheet."""

from __future__ import annotations

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.date_record import date_record
from guardbook.actions.decide import decide
from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.binding.drawing.look import Look
from guardbook.errors import WrongUse
from guardbook.evidence.dated import Dating
from guardbook.evidence.decision import arithmetic
from guardbook.evidence.examinations import STATES, heading
from guardbook.evidence.owner_text import owner_text
from guardbook.evidence.reading_table import reading_table
from guardbook.evidence.timeline import draw_timeline
from guardbook.evidence.weighing import number
from guardbook.pages.rendering import Asked, page

router = APIRouter(include_in_schema=False)

WEIGHT = "weight."


@router.get("/{kind}/{identifier}/evidence")
def evidence(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show when a volume or piece can be dated to, by what, and what its traces may mean."""
    iri = access.resolve(f"{kind}/{identifier}")
    dating = date_record(access, iri)
    weighed = weigh_evidence(access, iri)
    return page(
        request,
        "evidence.html",
        iri=iri,
        kind=kind,
        dating=dating,
        timeline=(_timeline(dating, narrow=False), _timeline(dating, narrow=True)),
        evidence=weighed,
        groups=reading_table(weighed),
    )


@router.get("/{kind}/{identifier}/examinations")
def examinations(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show what can be examined only now, what is done, and what is limited afterwards."""
    iri = access.resolve(f"{kind}/{identifier}")
    found = examinations_of_event(access, iri)
    groups = [(state, heading(state), found.in_state(state)) for state in STATES]
    return page(request, "examinations.html", iri=iri, kind=kind, found=found, groups=groups)


@router.get("/{kind}/{identifier}/decision")
def decision(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show the options of a decision side by side; weights in the address are tried out, not saved."""
    iri = access.resolve(f"{kind}/{identifier}")
    asked = request.query_params.items()
    weights = {name.removeprefix(WEIGHT): text for name, text in asked if name.startswith(WEIGHT)}
    sheet = decide(access, iri, weights)
    return page(
        request,
        "decision.html",
        iri=iri,
        kind=kind,
        sheet=sheet,
        number=number,
        arithmetic=arithmetic(),
        owner_text=owner_text(sheet),
    )


def _timeline(dating: Dating, *, narrow: bool) -> Markup:
    """Draw the dates, each leading to its reasons below; nothing where none is bounded."""
    places = {one.time: f"#time-{number}" for number, one in enumerate(dating.times, start=1)}
    look = Look(narrow=narrow, name="narrow" if narrow else "wide", link=places.__getitem__)
    try:
        svg = draw_timeline(dating, look)
    except WrongUse:
        return Markup()
    return Markup(svg)  # noqa: S704  # drawn by us, with every text escaped
