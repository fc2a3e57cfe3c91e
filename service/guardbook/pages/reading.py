"""The pages of records: the record itself, where it sat, what it held, what is missing, what was saved."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from guardbook.actions.check_record import check_record
from guardbook.actions.pieces_of_host import pieces_of_host
from guardbook.actions.record_history import record_history
from guardbook.actions.show_record import show_record
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.completeness.shape_files import STAGES
from guardbook.errors import NotFound, WrongUse
from guardbook.exports.formats import FORMATS
from guardbook.pages.rendering import Asked, page, short

router = APIRouter(include_in_schema=False)

OTHER_FORMS = tuple(FORMATS[name] for name in ("turtle", "jsonld", "ntriples", "trig", "nquads", "rdfxml"))


@router.get("/{kind}/{identifier}.html")
def record(request: Request, access: Asked, kind: str, identifier: str) -> Response:
    """Show a record."""
    iri = _resolved(access, kind, identifier)
    if short(iri) != f"{kind}/{identifier}":
        return RedirectResponse(f"{request.scope.get('root_path', '')}/{short(iri)}.html", 301)
    return page(request, "record.html", shown=show_record(access, iri), forms=OTHER_FORMS)


@router.get("/{kind}/{identifier}/where")
def where(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show where a piece sat and where it is."""
    iri = _resolved(access, kind, identifier)
    return page(request, "where.html", iri=iri, told=where_it_sat(access, iri))


@router.get("/{kind}/{identifier}/pieces")
def pieces(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show the pieces that ever were in a volume."""
    iri = _resolved(access, kind, identifier)
    return page(request, "pieces.html", iri=iri, told=pieces_of_host(access, iri))


@router.get("/{kind}/{identifier}/check")
def check(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show what is missing."""
    iri = _resolved(access, kind, identifier)
    stage = request.query_params.get("for") or None
    return page(request, "check.html", iri=iri, report=check_record(access, iri, stage), stages=STAGES)


@router.get("/{kind}/{identifier}/history")
def history(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show every revision of a record."""
    iri = _resolved(access, kind, identifier)
    return page(request, "history.html", iri=iri, revisions=record_history(access, iri))


def _resolved(access: Asked, kind: str, identifier: str) -> str:
    try:
        return access.resolve(f"{kind}/{identifier}")
    except WrongUse as error:
        raise NotFound(message=error.message, faults=error.faults) from error
