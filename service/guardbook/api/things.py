"""The records' own addresses, which stand for the pieces, volumes and events themselves.

A piece of parchment cannot be sent over a wire, so its address answers 303 and leads to the description that
suits the asker best: a page, or RDF in one of its forms (W3C, *Cool URIs for the Semantic Web*, section 4.2).
"""

from __future__ import annotations

import io
from types import MappingProxyType

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from guardbook.actions.export_records import export_records
from guardbook.api.addresses import Identifier, Kind, record_at
from guardbook.api.descriptions import READING, errors, files
from guardbook.api.reply import Asked, entity_tag, unchanged
from guardbook.errors import NotAcceptable, NotFound
from guardbook.exports.formats import FORMATS
from guardbook.exports.negotiation import preferred
from guardbook.records.identifiers import is_valid, normal_form

router = APIRouter(tags=["Addresses of records"])

PAGE = "text/html"
# between formats that are liked equally the first is given; plain JSON is JSON-LD here
DOCUMENTS = MappingProxyType(
    {
        PAGE: ".html",
        **{
            FORMATS[name].media_type: FORMATS[name].ending
            for name in ("jsonld", "turtle", "ntriples", "trig", "rdfxml", "nquads")
        },
        "application/json": ".jsonld",
    }
)
_NAMES = MappingProxyType(
    {found.ending: name for name, found in FORMATS.items() if found.ending in DOCUMENTS.values()}
)


@router.get(
    "/{kind:kind}/{identifier}.{ending}",
    operation_id="getDocument",
    responses=files(
        "The record in this form.", *(media_type for media_type in DOCUMENTS if media_type != PAGE)
    ),
)
def document(request: Request, access: Asked, kind: Kind, identifier: Identifier, ending: str) -> Response:
    """Get a record as RDF: `.ttl`, `.jsonld`, `.nt`, `.nq`, `.trig` or `.rdf`."""
    if f".{ending}" not in _NAMES:
        raise NotFound(message=f"There is no form .{ending}. The forms are: {', '.join(_NAMES)} and .html.")
    if moved := _moved(request, kind, identifier, f".{ending}"):
        return moved
    iri = record_at(access, kind, identifier)
    headers = {"ETag": entity_tag(access, access.record(iri)), "Link": f'<{iri}>; rel="describes"'}
    if unchanged(request, headers["ETag"]):
        return Response(status_code=304, headers=headers)
    output = io.BytesIO()
    written = export_records(access, [iri], _NAMES[f".{ending}"], output)
    return Response(output.getvalue(), headers=headers, media_type=written.media_type)


@router.get(
    "/{kind:kind}/{identifier}",
    operation_id="getThing",
    status_code=303,
    responses={
        301: {"description": "The identifier is spelled otherwise."},
        303: {"description": "A description of it, in the form that suits best."},
        **errors((*READING, 406)),
    },
)
def thing(request: Request, access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Be led to the description of a piece, volume, event, image or person that `Accept` asks for."""
    if moved := _moved(request, kind, identifier, ""):
        return moved
    access.record(record_at(access, kind, identifier))
    chosen = preferred(request.headers.get("accept"), tuple(DOCUMENTS))
    if chosen is None:
        raise NotAcceptable(message=f"A record can be given as {', '.join(DOCUMENTS)}.")
    there = f"{_root(request)}/{kind}/{identifier}{DOCUMENTS[chosen]}{_asked_as(request)}"
    return RedirectResponse(there, 303, {"Vary": "Accept"})


def _moved(request: Request, kind: str, identifier: str, ending: str) -> Response | None:
    """Lead from another spelling of an identifier (lower case, no hyphen) to the right one."""
    spelled = normal_form(identifier)
    if spelled == identifier or not is_valid(spelled):
        return None
    return RedirectResponse(f"{_root(request)}/{kind}/{spelled}{ending}{_asked_as(request)}", 301)


def _root(request: Request) -> str:
    return str(request.scope.get("root_path", ""))


def _asked_as(request: Request) -> str:
    return "?as=public" if request.query_params.get("as") == "public" else ""
