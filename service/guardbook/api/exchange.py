"""In and out: files handed in, records handed on, the spreadsheet to fill in, the catalogue's own check."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from typing import Annotated, Any, BinaryIO, cast

from fastapi import APIRouter, Depends, Query
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from guardbook.actions.add_files import add_files
from guardbook.actions.export_records import export_records
from guardbook.actions.make_template import make_template
from guardbook.actions.verify_catalogue import verify_catalogue
from guardbook.api.addresses import reached_at
from guardbook.api.bodies import limited
from guardbook.api.descriptions import answers, files
from guardbook.api.reply import Asked, Workshop, json_reply
from guardbook.api.saving import SavingQuery
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.exports.formats import FORMATS, format_named
from guardbook.wording import LANGUAGES

router = APIRouter(prefix="/api", tags=["In and out"])

# what is larger waits on the disk rather than in memory
IN_MEMORY_BYTES = 8 * 1024 * 1024
A_PIECE_BYTES = 64 * 1024

TEMPLATE_TYPES = {
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
FormatName = Annotated[
    str, Query(alias="format", description="The format.", json_schema_extra={"enum": list(FORMATS)})
]
LabelLanguage = Annotated[
    str, Query(description="The language of labels.", json_schema_extra={"enum": list(LANGUAGES)})
]


def upload_of(what: str) -> dict[str, Any]:
    """Describe a form with files in it."""
    file = {"type": "array", "items": {"type": "string", "format": "binary"}, "description": what}
    schema = {"type": "object", "required": ["file"], "properties": {"file": file}}
    return {"requestBody": {"required": True, "content": {"multipart/form-data": {"schema": schema}}}}


@router.get(
    "/export",
    operation_id="exportRecords",
    responses=files("A file of records.", *dict.fromkeys(found.media_type for found in FORMATS.values())),
)
def export(
    request: Request,
    access: Asked,
    format_name: FormatName,
    *,
    names: Annotated[
        list[str],
        Query(
            alias="id", description="Only these: identifiers or workshop numbers; repeatable. Without: all."
        ),
    ] = [],  # noqa: B006  # FastAPI copies it
    language: LabelLanguage = "en",
    with_events: Annotated[
        bool, Query(alias="withEvents", description="Take along the events that name each record.")
    ] = False,
) -> Response:
    """Get records in a format that other programs read."""
    chosen = format_named(format_name)
    file = cast(BinaryIO, tempfile.SpooledTemporaryFile(max_size=IN_MEMORY_BYTES))  # noqa: SIM115  # closed when sent
    try:
        words: dict[str, Any] = {"language": language, "with_events": with_events, "at": reached_at(request)}
        export_records(access, names or None, format_name, file, **words)
    except BaseException:
        file.close()
        raise
    headers = saved_as(file_name(access, names), chosen.ending)
    return StreamingResponse(pieces_of(file), headers=headers, media_type=chosen.media_type)


def file_name(access: Access, names: Sequence[str]) -> str:
    """Give what a file of these records is to be called: after the record, where it is one."""
    return "-".join(access.resolve(names[0]).rsplit("/", 2)[-2:]) if len(names) == 1 else "guardbook"


def saved_as(name: str, ending: str) -> dict[str, str]:
    """Give the headers that tell a browser to save a file, and under which name."""
    return {"Content-Disposition": f'attachment; filename="{name}{ending}"'}


def pieces_of(file: BinaryIO) -> Iterator[bytes]:
    """Give a file from its beginning, piece by piece, and close it."""
    with file:
        file.seek(0)
        while piece := file.read(A_PIECE_BYTES):
            yield piece


@router.get(
    "/template",
    operation_id="getTemplate",
    responses=files("The spreadsheet.", *TEMPLATE_TYPES.values()),
)
def template(
    format_name: Annotated[
        str,
        Query(alias="format", description="The format.", json_schema_extra={"enum": list(TEMPLATE_TYPES)}),
    ] = "xlsx",
    language: Annotated[
        str, Query(description="The language of its headings.", json_schema_extra={"enum": list(LANGUAGES)})
    ] = "en",
    kind: Annotated[str, Query(description="What its rows are.", examples=["pieces"])] = "pieces",
) -> Response:
    """Get the empty spreadsheet to fill in and hand in again."""
    made = make_template(format_name, language=language, kind=kind)
    return Response(made, headers=saved_as(kind, f".{format_name}"), media_type=TEMPLATE_TYPES[format_name])


async def uploads_in(request: Request) -> list[tuple[str, bytes]]:
    """Read the uploaded files whole. Raises TooLarge, or WrongUse where there are none."""
    if not request.headers.get("content-type", "").startswith("multipart/form-data"):
        raise WrongUse(message="Send the files as multipart/form-data, each in a field named file.")
    async with limited(request).form() as form:
        found = [part for part in form.getlist("file") if isinstance(part, UploadFile)]
        if not found:
            raise WrongUse(message="No file was sent; send each in a field named file.")
        return [(part.filename or "unnamed", await part.read()) for part in found]


Uploads = Annotated[list[tuple[str, bytes]], Depends(uploads_in)]


@router.post(
    "/import",
    operation_id="importFiles",
    responses=answers("Added", "What is new, what changed, and what was noticed.", changes=True),
    openapi_extra=upload_of("JSON, Turtle, TriG, N-Triples, N-Quads, RDF/XML, CSV or XLSX."),
)
def add(
    access: Workshop,
    *,
    saving: SavingQuery,
    uploads: Uploads,
    dry_run: Annotated[
        bool, Query(alias="dryRun", description="Only say what would be saved, and every fault.")
    ] = False,
) -> Response:
    """Hand in files of records or spreadsheets: all is saved or, where anything is not right, nothing."""
    words: dict[str, Any] = saving.words("handed in through the API")
    return json_reply(add_files(access, uploads, dry_run=dry_run, **words))


@router.get(
    "/verify",
    operation_id="verifyCatalogue",
    responses=answers("Verified", "What does not agree; nothing, if all is well."),
)
def verify(access: Asked) -> Response:
    """Check the ledger's chain, and the graph and the search against the ledger."""
    return json_reply({"faults": verify_catalogue(access)})
