"""Pages of the trade terms, of the ontology, and of what the API offers."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.explain_fields import data_dictionary
from guardbook.actions.list_terms import list_schemes, narrower_than, term_named, terms_of
from guardbook.pages.rendering import page
from guardbook.records import terms
from guardbook.wording import LANGUAGES

router = APIRouter(include_in_schema=False)


@router.get("/terms")
@router.get("/terms/")
def schemes(request: Request) -> HTMLResponse:
    """List the lists of terms."""
    return page(request, "schemes.html", schemes=list_schemes())


@router.get("/terms/{scheme}.html")
def term_list(request: Request, scheme: str) -> HTMLResponse:
    """Show a list of terms with their labels."""
    return page(
        request,
        "term_list.html",
        scheme=scheme,
        name=terms.scheme_label(scheme),
        terms=terms_of(scheme),
        languages=LANGUAGES,
    )


@router.get("/terms/{scheme}/{slug}.html")
def term(request: Request, scheme: str, slug: str) -> HTMLResponse:
    """Show one term."""
    found = term_named(scheme, slug)
    narrower = narrower_than(scheme, slug)
    return page(request, "term.html", term=found, name=terms.scheme_label(scheme), narrower=narrower)


@router.get("/ns.html")
def fields(request: Request) -> HTMLResponse:
    """Explain every field of every record."""
    return page(request, "fields.html", models=data_dictionary())


@router.get("/api")
def api(request: Request) -> HTMLResponse:
    """Show what the API offers, from its own description."""
    described: dict[str, Any] = request.app.openapi()
    by_tag: dict[str, list[tuple[str, str, Any]]] = {tag["name"]: [] for tag in described["tags"]}
    for path, operations in described["paths"].items():
        for method, operation in operations.items():
            by_tag[operation["tags"][0]].append((method.upper(), path, operation))
    return page(request, "api.html", described=described, by_tag=by_tag)
