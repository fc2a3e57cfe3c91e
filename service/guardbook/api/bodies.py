"""The bodies of requests: how long they may be, and of which media type."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from typing import Annotated, Any

from fastapi import Depends
from starlette.requests import Request

from guardbook.errors import UnsupportedMedia
from guardbook.intake.limited_body import limited_body

LONGEST_BYTES = 64 * 1024 * 1024
JSON_TYPES = ("application/json", "application/ld+json")
PATCH_TYPES = ("application/merge-patch+json", "application/json")


def _body_of(media_types: tuple[str, ...]) -> Callable[[Request], Coroutine[Any, Any, bytes]]:
    async def read(request: Request) -> bytes:
        given = request.headers.get("content-type", media_types[0]).partition(";")[0].strip().lower()
        if given not in media_types:
            raise UnsupportedMedia(message=f"Expected a body of {' or '.join(media_types)}, found {given}.")
        return await limited(request).body()

    return read


def limited(request: Request) -> Request:
    """Give the request, which raises TooLarge as soon as more of its body comes than is taken here."""
    return Request(request.scope, limited_body(request.receive, LONGEST_BYTES, "request"))


JsonBody = Annotated[bytes, Depends(_body_of(JSON_TYPES))]
PatchBody = Annotated[bytes, Depends(_body_of(PATCH_TYPES))]
