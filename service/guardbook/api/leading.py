"""Addresses that stand for things: each leads (303) to the description that suits the asker best.

A piece of parchment, or the idea of a pastedown, cannot be sent over a wire; a page or some RDF about it can
(W3C, *Cool URIs for the Semantic Web*, section 4.2).
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from guardbook.actions.list_terms import term_named, terms_of
from guardbook.api.addresses import SchemeName, Slug
from guardbook.api.descriptions import errors
from guardbook.errors import NotAcceptable
from guardbook.exports.negotiation import preferred

router = APIRouter(tags=["Words"])

PAGE = "text/html"
WORDS = MappingProxyType({PAGE: ".html", "text/turtle": ".ttl"})
LEADS = {303: {"description": "A description, in the form that suits best."}, **errors((404, 406))}


def lead(request: Request, path: str, forms: Mapping[str, str]) -> Response:
    """Lead to the form of a path that `Accept` asks for. Raises NotAcceptable listing those there are."""
    chosen = preferred(request.headers.get("accept"), tuple(forms))
    if chosen is None:
        raise NotAcceptable(message=f"{path} can be had as {', '.join(forms)}.")
    return RedirectResponse(address(request, path + forms[chosen]), 303, {"Vary": "Accept"})


def address(request: Request, path: str) -> str:
    """Give the address of a path on this host, still as the public where that was asked for."""
    asked_as = "?as=public" if request.query_params.get("as") == "public" else ""
    return f"{request.scope.get('root_path', '')}{path}{asked_as}"


@router.get(
    "/ns", operation_id="getOntology", status_code=303, response_class=RedirectResponse, responses=LEADS
)
def namespace(request: Request) -> Response:
    """Be led to the ontology: every class and property of records."""
    return lead(request, "/ns", WORDS)


@router.get(
    "/terms/{scheme}",
    operation_id="getTermList",
    status_code=303,
    response_class=RedirectResponse,
    responses=LEADS,
)
def term_list(request: Request, scheme: SchemeName) -> Response:
    """Be led to a list of terms."""
    terms_of(scheme)
    return lead(request, f"/terms/{scheme}", WORDS)


@router.get(
    "/terms/{scheme}/{slug}",
    operation_id="getTerm",
    status_code=303,
    response_class=RedirectResponse,
    responses=LEADS,
)
def term(request: Request, scheme: SchemeName, slug: Slug) -> Response:
    """Be led to one term."""
    term_named(scheme, slug)
    return lead(request, f"/terms/{scheme}/{slug}", WORDS)
