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
from guardbook.evidence.timeline import draw_timeline
from guardbook.pages.rendering import Asked, page

router = APIRouter(include_in_schema=False)


@router.get("/{kind}/{identifier}/evidence")
def evidence(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show when a volume or piece can be dated to, by what, and what its traces may mean."""
    iri = access.resolve(f"{kind}/{identifier}")
    dates = date_record(access, iri)
    weighed = weigh_evidence(access, iri)
    return page(
        request,
        "evidence.html",
        iri=iri,
        kind=kind,
        dates=dates.words().splitlines(),
        timeline=(_timeline(dates, narrow=False), _timeline(dates, narrow=True)),
        readings=weighed.words().splitlines(),
    )


@router.get("/{kind}/{identifier}/examinations")
def examinations(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show what can be examined only now."""
    iri = access.resolve(f"{kind}/{identifier}")
    lines = examinations_of_event(access, iri).words().splitlines()
    return page(request, "told.html", iri=iri, kind=kind, here="/examinations", lines=lines)


@router.get("/{kind}/{identifier}/decision")
def decision(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show the options of a decision side by side."""
    iri = access.resolve(f"{kind}/{identifier}")
    lines = decide(access, iri).words().splitlines()
    return page(request, "told.html", iri=iri, kind=kind, here="/decision", lines=lines)


def _timeline(dates: Dating, *, narrow: bool) -> Markup:
    """Draw the dates; nothing where none is bounded, which the words beside it say."""
    try:
        svg = draw_timeline(dates, Look(narrow=narrow, name="narrow" if narrow else "wide"))
    except WrongUse:
        return Markup()
    return Markup(svg)  # noqa: S704  # drawn by us, with every text escaped
