"""How long the body of a request may be."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from guardbook.errors import TooLarge

# what comes of a request, part by part, as an ASGI server gives it
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]


def limited_body(receive: Receive, longest_bytes: int, what: str) -> Receive:
    """Give a body as it comes; raises TooLarge as soon as more comes than one `what` may hold."""
    length = 0

    async def limited() -> MutableMapping[str, Any]:
        nonlocal length
        message = await receive()
        length += len(message.get("body", b""))
        if length > longest_bytes:
            raise TooLarge(message=f"At most {longest_bytes // 1024**2} MiB are taken in one {what}.")
        return message

    return limited
