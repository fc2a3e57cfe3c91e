"""The bodies of requests: how long they may be, and of which media type."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from typing import Annotated, Any

from fastapi import Depends
from starlette.requests import Request
from starlette.types import Message

from guardbook.errors import TooLarge, UnsupportedMedia

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
    length = 0

    async def receive() -> Message:
        nonlocal length
        message = await request.receive()
        length += len(message.get("body", b""))
        if length > LONGEST_BYTES:
            raise TooLarge(message=f"At most {LONGEST_BYTES // 1024**2} MiB are taken in one request.")
        return message

    return Request(request.scope, receive)


JsonBody = Annotated[bytes, Depends(_body_of(JSON_TYPES))]
PatchBody = Annotated[bytes, Depends(_body_of(PATCH_TYPES))]
