"""The records' own addresses, and the documents that they lead to."""

from __future__ import annotations

import io
from types import MappingProxyType

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from guardbook.actions.export_records import export_records
from guardbook.api import freshness
from guardbook.api.addresses import Ending, Identifier, Kind, record_at
from guardbook.api.descriptions import READING, errors, files
from guardbook.api.leading import LEADS, PAGE, address, lead
from guardbook.api.reply import Asked
from guardbook.errors import NotFound
from guardbook.exports.formats import FORMATS
from guardbook.records.identifiers import is_valid, normal_form

router = APIRouter(tags=["Addresses of records"])

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
def document(request: Request, access: Asked, kind: Kind, identifier: Identifier, ending: Ending) -> Response:
    """Get a record as RDF: `.ttl`, `.jsonld`, `.nt`, `.nq`, `.trig` or `.rdf`."""
    if f".{ending}" not in _NAMES:
        raise NotFound(message=f"There is no form .{ending}. The forms are: {', '.join(_NAMES)} and .html.")
    if moved := _moved(request, kind, identifier, f".{ending}"):
        return moved
    iri = record_at(access, kind, identifier)
    version = freshness.of_record(access, iri)
    if version.is_known_to(request):
        return version.not_modified()
    headers = {**version.headers, "Link": f'<{iri}>; rel="describes"'}
    output = io.BytesIO()
    written = export_records(access, [iri], _NAMES[f".{ending}"], output)
    return Response(output.getvalue(), headers=headers, media_type=written.media_type)


@router.get(
    "/{kind:kind}/{identifier}",
    operation_id="getThing",
    status_code=303,
    response_class=RedirectResponse,
    responses={
        **LEADS,
        301: {"description": "The identifier is spelled otherwise."},
        **errors((*READING, 406)),
    },
)
def thing(request: Request, access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Be led to the description of a piece, volume, event, image or person that `Accept` asks for."""
    if moved := _moved(request, kind, identifier, ""):
        return moved
    access.record(record_at(access, kind, identifier))
    return lead(request, f"/{kind}/{identifier}", DOCUMENTS)


def _moved(request: Request, kind: str, identifier: str, ending: Ending) -> Response | None:
    """Lead from another spelling of an identifier (lower case, no hyphen) to the right one."""
    spelled = normal_form(identifier)
    if spelled == identifier or not is_valid(spelled):
        return None
    return RedirectResponse(address(request, f"/{kind}/{spelled}{ending}"), 301)
