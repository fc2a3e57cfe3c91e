"""Packets over HTTP: one file with records, pictures and all that explains them, made and read back."""

from __future__ import annotations

import io
import tempfile
from typing import Annotated, BinaryIO, cast

from fastapi import APIRouter, Query
from starlette.responses import Response, StreamingResponse

from guardbook.actions.import_packet import import_packet
from guardbook.actions.make_packet import make_packet
from guardbook.api.descriptions import answers, files
from guardbook.api.exchange import IN_MEMORY_BYTES, Uploads, file_name, pieces_of, saved_as, upload_of
from guardbook.api.reply import Asked, Workshop, json_reply
from guardbook.errors import WrongUse

router = APIRouter(prefix="/api", tags=["In and out"])

ZIP = "application/zip"


@router.get("/packet", operation_id="makePacket", responses=files("The packet.", ZIP))
def packet(
    access: Asked,
    names: Annotated[
        list[str],
        Query(
            alias="id",
            description="Only these and what they hang on: identifiers or workshop numbers. Without: all.",
        ),
    ] = [],  # noqa: B006  # FastAPI copies it
) -> Response:
    """Get records, pictures and all that explains them in one file, for deposit or for handing over."""
    file = cast(BinaryIO, tempfile.SpooledTemporaryFile(max_size=IN_MEMORY_BYTES))  # noqa: SIM115  # closed when sent
    try:
        make_packet(access, names or None, file)
    except BaseException:
        file.close()
        raise
    headers = saved_as(file_name(access, names), "-packet.zip")
    return StreamingResponse(pieces_of(file), headers=headers, media_type=ZIP)


@router.post(
    "/packet",
    operation_id="importPacket",
    responses=answers("Imported", "What is new, and what was here already.", changes=True),
    openapi_extra=upload_of("One packet."),
)
def read_back(
    access: Workshop,
    *,
    uploads: Uploads,
    who: Annotated[str, Query(max_length=200, description="Who imports it.")] = "the workshop",
    what_for: Annotated[
        str, Query(alias="whatFor", max_length=1000, description="What for, kept in the history.")
    ] = "a packet imported",
    dry_run: Annotated[
        bool, Query(alias="dryRun", description="Only check it, and say what would be saved.")
    ] = False,
) -> Response:
    """Hand in a packet: all of it is kept, bit for bit, or nothing where anything is wrong with it."""
    if len(uploads) != 1:
        raise WrongUse(message=f"Hand in one packet at a time, not {len(uploads)}.")
    ((name, data),) = uploads
    file = io.BytesIO(data)
    done = import_packet(
        access, file, name, who=who, what_for=what_for or "a packet imported", dry_run=dry_run
    )
    return json_reply(done)
