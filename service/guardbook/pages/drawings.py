"""The pages of drawings: a volume at its stages, two laid over each other, the leaves of a carrier."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.draw_laid_over import draw_laid_over
from guardbook.actions.draw_rejoined import draw_rejoined
from guardbook.actions.draw_stage import draw_stage
from guardbook.actions.stages_of_host import stages_of_host
from guardbook.errors import WrongUse
from guardbook.pages.rendering import Asked, page, short

router = APIRouter(include_in_schema=False)


@router.get("/host/{identifier}/drawn")
def drawn(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show a volume at one of its stages, with every piece in its place."""
    iri = access.resolve(f"host/{identifier}")
    asked = request.query_params
    wide = draw_stage(
        access,
        iri,
        _number(request, "stage"),
        asked.get("plane") or None,
        like=asked.get("like"),
        link=_to(request),
        id_prefix="wide",
    )
    return page(
        request,
        "drawn.html",
        iri=iri,
        scene=wide.scene,
        stages=stages_of_host(access, iri),
        key=wide.key,
        others=wide.others,
        drawings=_both(wide.svg, wide.narrow("narrow")),
    )


@router.get("/host/{identifier}/laid-over")
def laid_over(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show two volumes, or two stages of one, laid over each other."""
    iri = access.resolve(f"host/{identifier}")
    wide = draw_laid_over(
        access,
        iri,
        request.query_params.get("with") or iri,
        stage_a=_number(request, "stage"),
        stage_b=_number(request, "withStage"),
        plane=request.query_params.get("plane") or None,
        link=_to(request),
        id_prefix="wide",
    )
    drawings = _both(wide.svg, wide.narrow("narrow"))
    return page(request, "laid_over.html", iri=iri, overlay=wide.overlay, drawings=drawings)


@router.get("/carrier/{identifier}/rejoined")
def rejoined(request: Request, access: Asked, identifier: str) -> HTMLResponse:
    """Show the known pieces of a book that was cut up, each leaf set out."""
    iri = access.resolve(f"carrier/{identifier}")
    wide = draw_rejoined(access, iri, link=_to(request), id_prefix="wide")
    leaves = [
        (leaf, _both(*svgs))
        for leaf, *svgs in zip(wide.rejoined.leaves, wide.svgs, wide.narrow("narrow"), strict=True)
    ]
    return page(request, "rejoined.html", iri=iri, found=wide.rejoined, leaves=leaves)


def _to(request: Request) -> Callable[[str], str]:
    root = request.scope.get("root_path", "")
    return lambda iri: f"{root}/{short(iri)}"


def _both(wide: str, narrow: str) -> tuple[Markup, Markup]:
    # drawn by us, with every text escaped
    return Markup(wide), Markup(narrow)  # noqa: S704


def _number(request: Request, name: str) -> int | None:
    text = request.query_params.get(name) or ""
    if text and not (text.isascii() and text.isdigit()):
        raise WrongUse(message=f"Expected the number of a stage in {name}, found {text!r}.")
    return int(text) if text else None
