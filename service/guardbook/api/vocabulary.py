"""The words that records are written in: trade terms, the JSON-LD context and the ontology."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path
from starlette.responses import Response

from guardbook.actions.list_terms import list_schemes, terms_of
from guardbook.api.descriptions import answers
from guardbook.api.reply import json_reply
from guardbook.records.context import context

router = APIRouter(tags=["Words"])


@router.get(
    "/api/terms", operation_id="listTermLists", responses=answers("TermList", "The lists.", many=True)
)
def lists() -> Response:
    """Name the lists of trade terms."""
    return json_reply(list_schemes())


@router.get(
    "/api/terms/{scheme}",
    operation_id="listTerms",
    responses=answers("Term", "The terms with labels, definitions and the broader term.", many=True),
)
def list_terms(
    scheme: Annotated[str, Path(description="The name of a list.", examples=["function"])],
) -> Response:
    """List the terms that a field may hold, with their labels in six languages."""
    return json_reply(terms_of(scheme))


@router.get(
    "/context.jsonld", operation_id="getContext", responses={200: {"content": {"application/ld+json": {}}}}
)
def json_ld_context() -> Response:
    """Get the JSON-LD context that turns our JSON into RDF."""
    reply = json_reply({"@context": context()}, headers={"Access-Control-Allow-Origin": "*"})
    reply.headers["Content-Type"] = "application/ld+json"
    return reply
