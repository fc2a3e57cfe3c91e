"""The page of two volumes, or two stages of one, laid over each other."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.draw_laid_over import draw_laid_over
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.pages.record_parts import drawn, number_asked, to_record
from guardbook.pages.rendering import Asked, page

router = APIRouter(include_in_schema=False)


@router.get("/host/{identifier}/laid-over")
def laid_over(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show two volumes, or two stages of one, laid over each other."""
    iri = access.resolve(f"host/{identifier}")
    wide = draw_laid_over(
        access,
        iri,
        request.query_params.get("with") or iri,
        stage_a=number_asked(request, "stage"),
        stage_b=number_asked(request, "withStage"),
        plane=request.query_params.get("plane") or None,
        link=to_record(request),
        id_prefix="wide",
    )
    return page(
        request,
        "laid_over.html",
        iri=iri,
        overlay=wide.overlay,
        drawings=(drawn(wide.svg), drawn(wide.narrow("narrow"))),
        stages=stages_of_host(access, iri),
    )
