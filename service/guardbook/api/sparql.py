"""The query endpoint.

Source: SPARQL 1.1 Protocol (W3C Recommendation, 2013), section 2.1; updates are not taken. Beyond it there is
`format`, which names a form where no `Accept` can be sent, as from a link. Clients send names there that are
not ours; these are passed over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Any
from urllib.parse import parse_qs

from fastapi import APIRouter, Depends
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response, StreamingResponse

from guardbook import settings
from guardbook.actions.ask_sparql import FORMS, ask_sparql
from guardbook.actions.describe_dataset import DESCRIPTION_FORMS, endpoint_description
from guardbook.api.bodies import limited
from guardbook.api.descriptions import errors, files
from guardbook.api.exchange import pieces_of
from guardbook.api.leading import PAGE, address
from guardbook.api.reply import Asked
from guardbook.catalogue.access import Access
from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS, Answer
from guardbook.errors import Fault, NotAcceptable, QueryRefused, UnsupportedMedia, WrongUse
from guardbook.exports.negotiation import preferred
from guardbook.records.identifiers import example

router = APIRouter(tags=["SPARQL"])

FORM, DIRECT = "application/x-www-form-urlencoded", "application/sparql-query"
UPDATE = "application/sparql-update"
# names that clients ask for besides the standards' own
_SOLUTIONS = MappingProxyType(
    {
        **{media_type: form for form, media_type in SOLUTION_FORMS.items()},
        "application/json": "json",
        "application/xml": "xml",
        "text/xml": "xml",
    }
)
_GRAPHS = MappingProxyType(
    {
        **{media_type: form for form, media_type in GRAPH_FORMS.items()},
        "application/json": "jsonld",
        "application/xml": "rdfxml",
        "text/plain": "ntriples",
    }
)
CUT = "Guardbook-Cut-At"
_MANY_FIELDS = 1000
_PREFLIGHT = {
    "Access-Control-Allow-Origin": "*",
    "Access-Control-Allow-Methods": "GET, POST, OPTIONS",
    "Access-Control-Allow-Headers": "Accept, Content-Type",
    "Access-Control-Max-Age": "86400",
    "Allow": "GET, HEAD, POST, OPTIONS",
}


@dataclass(frozen=True)
class Fields:
    """What a request says, by name, each with all its values."""

    values: Mapping[str, list[str]]

    def one(self, name: str) -> str | None:
        """Give the value of a field, or None. Raises WrongUse where it is given more than once."""
        values = self.all(name)
        if len(values) > 1:
            fault = Fault(where=name, found=f"{len(values)} of them", expected="one")
            raise WrongUse(message="A request asks one query.", faults=(fault,))
        return values[0] if values else None

    def all(self, name: str) -> list[str]:
        """Give all values of a field."""
        return self.values.get(name, [])


def _parameter(name: str, about: str, schema: dict[str, Any]) -> dict[str, Any]:
    return {"name": name, "in": "query", "description": about, "schema": schema}


_IRIS = {"type": "array", "items": {"type": "string", "format": "iri"}}
_DATASET = (
    _parameter("default-graph-uri", "A graph to ask, a record's address; repeatable. Without: all.", _IRIS),
    _parameter("named-graph-uri", "A graph that `GRAPH` may name; repeatable.", _IRIS),
    _parameter("format", "The form, in place of `Accept`.", {"type": "string", "enum": list(FORMS)}),
)
_QUERY = _parameter("query", "The query, in SPARQL 1.1.", {"type": "string"})
_BODY = {
    FORM: {"schema": {"type": "object", "properties": {"query": {"type": "string"}}, "required": ["query"]}},
    DIRECT: {"schema": {"type": "string"}},
}
_ANSWERED = {
    **files("What was asked for.", *SOLUTION_FORMS.values(), *GRAPH_FORMS.values()),
    **errors((413, 415, 503)),
}


async def _posted(request: Request) -> Fields:
    """Read a query that was posted, as a form or by itself. Raises UnsupportedMedia for anything else."""
    given = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if given not in {FORM, DIRECT}:
        what = "Updates are not taken here. " if given == UPDATE else ""
        raise UnsupportedMedia(
            message=f"{what}Expected a body of {FORM} or {DIRECT}, found {given or 'no media type'}."
        )
    body = await limited(request).body()
    by_address = _fields(request.url.query.encode("ascii"))
    if given == FORM:
        return Fields({**by_address.values, **_fields(body).values})
    return Fields({**by_address.values, "query": [*by_address.all("query"), _text(body)]})


def _fields(encoded: bytes) -> Fields:
    try:
        found = parse_qs(_text(encoded), keep_blank_values=True, errors="strict", max_num_fields=_MANY_FIELDS)
    except UnicodeDecodeError as error:
        raise WrongUse(message=f"The request is not in UTF-8: {error.reason}.") from error
    except ValueError as error:
        raise WrongUse(message=f"A request has at most {_MANY_FIELDS} fields.") from error
    return Fields(found)


def _text(encoded: bytes) -> str:
    try:
        return encoded.decode("utf-8")
    except UnicodeDecodeError as error:
        raise WrongUse(message=f"The request is not in UTF-8: {error.reason}.") from error


@router.get(
    "/sparql",
    operation_id="askSparql",
    responses=_ANSWERED,
    openapi_extra={
        "parameters": [
            {**_QUERY, "example": f"DESCRIBE <{settings.DEFAULT_BASE}fragment/{example()}>"},
            *_DATASET,
        ]
    },
)
def ask_by_address(request: Request, access: Asked) -> Response:
    """Ask a query; without one, get the description of the endpoint, or as a reader the page to ask from."""
    fields = _fields(request.url.query.encode("ascii"))
    accept = request.headers.get("accept")
    if not fields.all("format") and preferred(accept, (*_SOLUTIONS, PAGE)) == PAGE:
        there = address(request, "/sparql.html").partition("?")[0]
        return RedirectResponse(f"{there}?{request.url.query}", 303, {"Vary": "Accept"})
    if not fields.values.keys() - {"as"}:
        return _described(request)
    return _answered(access, fields, accept)


@router.post(
    "/sparql",
    operation_id="askSparqlByPost",
    responses=_ANSWERED,
    openapi_extra={"parameters": list(_DATASET), "requestBody": {"required": True, "content": _BODY}},
)
def ask_by_post(request: Request, access: Asked, body: Annotated[Fields, Depends(_posted)]) -> Response:
    """Ask a query that is too long for an address."""
    return _answered(access, body, request.headers.get("accept"))


@router.options("/sparql", include_in_schema=False)
def may_be_asked() -> Response:
    """Let pages of other sites ask: what they are given is public (Fetch standard, CORS preflight)."""
    return Response(status_code=204, headers=_PREFLIGHT)


def _answered(access: Access, fields: Fields, accept: str | None) -> Response:
    if fields.all("update"):
        raise QueryRefused(message="Updates are not taken: records are changed through /api/records.")
    text = fields.one("query")
    if text is None:
        fault = Fault(where="query", found="nothing", expected="a query in SPARQL 1.1")
        raise WrongUse(message="The request asks nothing.", faults=(fault,))
    solutions_as, graph_as = _forms(fields.all("format"), accept)
    answer = ask_sparql(
        access,
        text,
        default_graphs=fields.all("default-graph-uri"),
        named_graphs=fields.all("named-graph-uri"),
        solutions_as=solutions_as,
        graph_as=graph_as,
    )
    return _given(answer)


def _forms(named: list[str], accept: str | None) -> tuple[str | None, str | None]:
    """Give the forms of solutions and of graphs: those named, else those liked best, None where none is."""
    solutions, graph = preferred(accept, tuple(_SOLUTIONS)), preferred(accept, tuple(_GRAPHS))
    return (
        next((form for form in named if form in SOLUTION_FORMS), solutions and _SOLUTIONS[solutions]),
        next((form for form in named if form in GRAPH_FORMS), graph and _GRAPHS[graph]),
    )


def _given(answer: Answer) -> Response:
    headers = {"Vary": "Accept", "Access-Control-Expose-Headers": CUT}
    if answer.cut:
        headers[CUT] = str(answer.rows)
    charset = {"Content-Type": f"{answer.media_type}; charset=utf-8"} if answer.form in {"csv", "tsv"} else {}
    return StreamingResponse(
        pieces_of(answer.file), headers={**headers, **charset}, media_type=answer.media_type
    )


def _described(request: Request) -> Response:
    media_type = preferred(request.headers.get("accept"), DESCRIPTION_FORMS)
    if media_type is None:
        forms = ", ".join((PAGE, *DESCRIPTION_FORMS))
        raise NotAcceptable(message=f"The description of the endpoint can be had as {forms}.")
    described = endpoint_description(str(request.base_url), media_type)
    return Response(described, headers={"Vary": "Accept"}, media_type=media_type)
