"""Other catalogues that are followed, and their records, which are read here and never changed."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query
from starlette.responses import Response

from guardbook.actions.harvest import harvest
from guardbook.actions.harvested import drop_origin, find_harvested, list_origins, show_harvested
from guardbook.api.descriptions import answers
from guardbook.api.reply import Asked, Workshop, json_reply
from guardbook.intake.remote import Remote

router = APIRouter(prefix="/api/harvested", tags=["Other catalogues"])


@router.get(
    "",
    operation_id="listOrigins",
    responses=answers("Origin", "The catalogues that are followed.", many=True),
)
def origins(access: Asked) -> Response:
    """List the other catalogues that are followed, with their licence and when each was last read."""
    return json_reply(list_origins(access))


@router.post(
    "",
    operation_id="harvestCatalogue",
    responses=answers("Harvested", "What was taken, what is gone, what was refused.", changes=True),
)
def follow(
    access: Workshop,
    *,
    address: Annotated[
        str, Query(max_length=2000, description="A feed, or the address of a catalogue, ending in a slash.")
    ],
    show_public: Annotated[
        bool | None, Query(alias="showPublic", description="Show its records to the public too.")
    ] = None,
    allow_private: Annotated[
        bool, Query(alias="allowPrivate", description="It may be on this machine or its local network.")
    ] = False,
) -> Response:
    """Take over what another catalogue tells of itself since the last time."""
    done = harvest(access, address, show_public=show_public, remote=Remote(allow_private=allow_private))
    return json_reply(done)


@router.delete(
    "/{origin}", operation_id="dropOrigin", responses=answers("Origin", "The one dropped.", changes=True)
)
def drop(
    access: Workshop, origin: Annotated[str, Path(description="The number of a catalogue.", examples=["1"])]
) -> Response:
    """Forget another catalogue with all its records."""
    return json_reply(drop_origin(access, origin))


@router.get(
    "/records",
    operation_id="findHarvested",
    responses=answers("HarvestedHit", "The records found, the best first.", many=True),
)
def found(
    access: Asked,
    words: Annotated[str, Query(alias="q", max_length=500, description="Words, or the start of them.")],
) -> Response:
    """Find records of other catalogues, each with where it is from."""
    return json_reply(find_harvested(access, words))


@router.get(
    "/record", operation_id="showHarvested", responses=answers("HarvestedShown", "The record in words.")
)
def record(
    access: Asked, iri: Annotated[str, Query(max_length=2000, description="The address of the record.")]
) -> Response:
    """Get a record of another catalogue as it was last read, with where it is from."""
    return json_reply(show_harvested(access, iri))
