"""The words that records are written in: trade terms, the JSON-LD context and the ontology."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from guardbook.actions.explain_fields import ontology_in_turtle
from guardbook.actions.list_terms import list_schemes, terms_in_turtle, terms_of
from guardbook.api.addresses import SchemeName, Slug
from guardbook.api.descriptions import answers, files
from guardbook.api.reply import json_reply
from guardbook.records.context import context

router = APIRouter(tags=["Words"])

TURTLE = "text/turtle"


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
    scheme: SchemeName,
) -> Response:
    """List the terms that a field may hold, with their labels in six languages."""
    return json_reply(terms_of(scheme))


@router.get("/ns.ttl", operation_id="getOntologyInTurtle", responses=files("The ontology.", TURTLE))
def ontology() -> Response:
    """Get the ontology: every class and property of records, with labels, and what they are in CIDOC CRM."""
    return Response(ontology_in_turtle(), media_type=TURTLE)


@router.get("/terms/{scheme}.ttl", operation_id="getTermListInTurtle", responses=files("The list.", TURTLE))
def term_list(scheme: SchemeName) -> Response:
    """Get a list of terms as SKOS."""
    return Response(terms_in_turtle(scheme), media_type=TURTLE)


@router.get(
    "/terms/{scheme}/{slug}.ttl", operation_id="getTermInTurtle", responses=files("The term.", TURTLE)
)
def term(scheme: SchemeName, slug: Slug) -> Response:
    """Get one term as SKOS."""
    return Response(terms_in_turtle(scheme, slug), media_type=TURTLE)


@router.get(
    "/context.jsonld", operation_id="getContext", responses={200: {"content": {"application/ld+json": {}}}}
)
def json_ld_context() -> Response:
    """Get the JSON-LD context that turns our JSON into RDF."""
    reply = json_reply({"@context": context()}, headers={"Access-Control-Allow-Origin": "*"})
    reply.headers["Content-Type"] = "application/ld+json"
    return reply
