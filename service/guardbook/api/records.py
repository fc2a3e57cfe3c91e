"""Records: list and find them, get one, add, replace, change and take out."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from guardbook.actions.delete_record import delete_record
from guardbook.actions.find_records import MOST_AT_ONCE, find_records
from guardbook.actions.save_documents import patch_document, put_document, save_documents
from guardbook.api import freshness
from guardbook.api.addresses import Identifier, Kind, address_for_new, api_address, record_at
from guardbook.api.bodies import JSON_TYPES, PATCH_TYPES, JsonBody, PatchBody
from guardbook.api.descriptions import (
    A_PATCH,
    A_RECORD,
    ONE_OR_MORE,
    SHOWN_PATCH,
    SHOWN_RECORD,
    SHOWN_RECORDS,
    answers,
    body,
)
from guardbook.api.examples import REVISION, STRIP
from guardbook.api.paging import page_links
from guardbook.api.preconditions import IfMatch, revision_in
from guardbook.api.reply import Asked, Workshop, json_reply
from guardbook.api.saving import SavingQuery
from guardbook.catalogue.access import Revision
from guardbook.errors import Fault, WrongUse

router = APIRouter(prefix="/api/records", tags=["Records"])


@router.get("", operation_id="findRecords", responses=answers("Found", "One page of what was found."))
def find(
    request: Request,
    access: Asked,
    *,
    q: Annotated[str, Query(description="Words, or the start of them; accents do not matter.")] = "",
    kind: Annotated[
        str | None, Query(description="Only records of this kind.", examples=["fragment"])
    ] = None,
    facet: Annotated[
        list[str],
        Query(
            description="Only those with it, `name:value`; repeatable. Beside what records say: `date` "
            "(EDTF), `kind`, `whereNow`, `completeFor`, `hasImage`.",
            examples=["function:pastedown"],
        ),
    ] = [],  # noqa: B006  # FastAPI copies it
    limit: Annotated[int, Query(ge=1, le=MOST_AT_ONCE, description="How many on a page.")] = 20,
    offset: Annotated[int, Query(ge=0, le=2**53, description="How many to pass over.")] = 0,
) -> Response:
    """Find records, the best first; without words, all of them.

    The header `Link` leads to the first, previous, next and last page.
    """
    found = find_records(access, q, kind=kind, facets=dict(map(_facet, facet)), limit=limit, offset=offset)
    links = page_links(request.url, limit=limit, offset=offset, total=found.total)
    return json_reply(found, headers={"Link": links})


def _facet(text: str) -> tuple[str, str]:
    name, colon, value = text.partition(":")
    if not (name and colon and value):
        fault = Fault(
            where="query.facet", found=repr(text), expected="name:value, such as function:pastedown"
        )
        raise WrongUse(message="The search could not be understood.", faults=(fault,))
    return name, value


@router.post(
    "",
    operation_id="addRecords",
    status_code=201,
    responses=answers("Revision", "The new records.", 201, [REVISION], changes=True, many=True),
    openapi_extra=body(JSON_TYPES, ONE_OR_MORE, SHOWN_RECORDS),
)
def add(access: Workshop, saving: SavingQuery, data: JsonBody) -> Response:
    """Add one record, or several given as a list: all of them or, where one is not right, none.

    A record without `id` is given an identifier; records of a list may refer to each other. One that is in
    the catalogue already is changed, if it says in `revision` which one you started from.
    """
    revisions = save_documents(access, data, **saving.words("added through the API"))
    return json_reply(revisions, 201, {"Location": api_address(revisions[0].iri)})


@router.get(
    "/{kind:kind}/{identifier}",
    operation_id="getRecord",
    responses=answers("Record", "The record as JSON, which is JSON-LD.", 200, STRIP),
)
def get(request: Request, access: Asked, kind: Kind, identifier: Identifier) -> Response:
    """Get one record. `ETag` is its revision: send it as `If-Match` when you change the record."""
    iri = record_at(access, kind, identifier)
    version = freshness.of_record(access, iri)
    if version.is_known_to(request):
        return version.not_modified()
    return json_reply(access.record(iri).record, headers=version.headers)


@router.put(
    "/{kind:kind}/{identifier}",
    operation_id="putRecord",
    responses={
        **answers("Revision", "The new revision.", 200, REVISION, changes=True),
        **answers("Revision", "The record is new.", 201, REVISION, changes=True),
    },
    openapi_extra=body(JSON_TYPES, A_RECORD, SHOWN_RECORD),
)
def put(
    access: Workshop,
    *,
    kind: Kind,
    identifier: Identifier,
    saving: SavingQuery,
    data: JsonBody,
    if_match: IfMatch = None,
) -> Response:
    """Replace a record as a whole, or add one under an identifier of your own.

    A record that is there needs `If-Match`; without it, the record must be new.
    """
    iri = address_for_new(kind, identifier)
    started_from = revision_in(if_match) if if_match is not None else None
    words = saving.words("saved through the API")
    saved = put_document(access, iri, data, started_from=started_from, **words)
    return _saved(saved, 200 if saved.number > 1 else 201)


@router.patch(
    "/{kind:kind}/{identifier}",
    operation_id="changeRecord",
    responses=answers("Revision", "The new revision.", 200, REVISION, changes=True),
    openapi_extra=body(PATCH_TYPES, A_PATCH, SHOWN_PATCH),
)
def patch(
    access: Workshop,
    *,
    kind: Kind,
    identifier: Identifier,
    saving: SavingQuery,
    data: PatchBody,
    if_match: IfMatch = None,
) -> Response:
    """Change some fields and leave the rest (JSON merge patch, RFC 7396): null takes a field away.

    A list, such as `features`, is replaced as a whole.
    """
    started_from = revision_in(if_match)
    iri = record_at(access, kind, identifier)
    words = saving.words("changed through the API")
    return _saved(patch_document(access, iri, data, started_from=started_from, **words))


@router.delete(
    "/{kind:kind}/{identifier}",
    operation_id="deleteRecord",
    responses=answers("Revision", "The record is taken out; its history stays.", 200, REVISION, changes=True),
)
def delete(
    access: Workshop,
    *,
    kind: Kind,
    identifier: Identifier,
    why: Annotated[
        str, Query(min_length=1, max_length=1000, description="The reason, told to whoever asks.")
    ],
    who: Annotated[
        str, Query(min_length=1, max_length=200, description="Who takes it out.")
    ] = "the workshop",
    if_match: IfMatch = None,
) -> Response:
    """Take a record out. Its address then answers 410, and says when and why."""
    started_from = revision_in(if_match)
    iri = record_at(access, kind, identifier)
    return _saved(delete_record(access, iri, started_from=started_from, who=who, why=why))


def _saved(revision: Revision, status: int = 200) -> Response:
    headers = {"Location": api_address(revision.iri)} if status == 201 else {}
    if not revision.tombstone:
        headers["ETag"] = f'"{revision.number}"'
    return json_reply(revision, status, headers)
