"""The page of two volumes, or two stages of one, laid over each other."""

from __future__ import annotations

from collections import Counter

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.draw_laid_over import draw_laid_over
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.binding.overlay_parts import ACCOUNTED, Overlay
from guardbook.pages.record_parts import drawn, number_asked, to_record
from guardbook.pages.rendering import Asked, page
from guardbook.wording import _

router = APIRouter(include_in_schema=False)


@router.get("/host/{identifier}/laid-over")
def laid_over(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show two volumes, or two stages of one, laid over each other."""
    iri = access.resolve(f"host/{identifier}")
    asked = request.query_params
    # of check boxes nothing is sent where none is checked; so the form says that it was sent
    uses = asked.getlist("show") if "chosen" in asked else ACCOUNTED
    wide = draw_laid_over(
        access,
        iri,
        asked.get("with") or iri,
        stage_a=number_asked(request, "stage"),
        stage_b=number_asked(request, "withStage"),
        plane=asked.get("plane") or None,
        uses=uses,
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
        plane=asked.get("plane", ""),
        uses=uses,
        counts=_counts(wide.overlay),
    )


def _counts(overlay: Overlay) -> list[tuple[str, str, int]]:
    """Give what accounts for the traces, in words, and how many it accounts for."""
    words = {
        "a": _("explained by A"),
        "b": _("explained by B"),
        "both": _("explained by both"),
        "neither": _("explained by neither"),
    }
    counted = Counter(found.accounted for found in overlay.features)
    return [(use, words[use], counted[use]) for use in ACCOUNTED if counted[use]]
