"""How long the body of a request may be."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from types import MappingProxyType
from typing import Any, Literal

from guardbook.errors import TooLarge
from guardbook.wording import _, said_later

_TOO_LARGE = MappingProxyType(
    {
        "form": said_later("At most {size} MiB are taken in one form."),
        "request": said_later("At most {size} MiB are taken in one request."),
    }
)
# what comes of a request, part by part, as an ASGI server gives it
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]


def limited_body(receive: Receive, longest_bytes: int, what: Literal["form", "request"]) -> Receive:
    """Give a body as it comes; raises TooLarge as soon as more comes than one `what` may hold."""
    length = 0

    async def limited() -> MutableMapping[str, Any]:
        nonlocal length
        message = await receive()
        length += len(message.get("body", b""))
        if length > longest_bytes:
            raise TooLarge(message=_(_TOO_LARGE[what]).format(size=longest_bytes // 1024**2))
        return message

    return limited
