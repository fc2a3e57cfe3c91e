"""The overview for the workshop: what is open, what is about to be lost, what clashes, what is away."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.bench import bench, more_words
from guardbook.pages.rendering import Asked, page

router = APIRouter(include_in_schema=False)


@router.get("/bench")
def overview(request: Request, access: Asked) -> HTMLResponse:
    """Show the lists, each short, or one of them as a long one."""
    only = request.query_params.get("list") or None
    return page(request, "bench.html", bench=bench(access, only), only=only, more=more_words)
