"""The pages of other catalogues that are followed: which they are, and their records, to read only."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.harvested import list_origins, show_harvested
from guardbook.pages.rendering import Asked, page
from guardbook.wording import language

router = APIRouter(include_in_schema=False)


@router.get("/harvested")
def harvested(request: Request, access: Asked) -> HTMLResponse:
    """List the catalogues."""
    return page(request, "harvested.html", origins=list_origins(access))


@router.get("/harvested/record")
def record(request: Request, access: Asked, iri: str = "") -> HTMLResponse:
    """Show a record of another catalogue."""
    return page(request, "harvested_record.html", shown=show_harvested(access, iri, language()))
