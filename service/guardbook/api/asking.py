"""Who is asking: only the machine the catalogue runs on is the workshop, and only for requests of its own.

A page of another site that is open in the same browser can send requests here (cross-site requests), and a
name that its owner points at 127.0.0.1 can read the answers (DNS rebinding). So a request counts as the
workshop's only where all of these hold, and as the public's otherwise:

- it comes from a loopback address, and not by way of a proxy;
- it names a loopback host, so that no foreign name stands for this machine;
- the browser, where there is one, says that it comes from this very site, or was typed in
  (Fetch Metadata, https://www.w3.org/TR/fetch-metadata/; `Origin`, RFC 6454).
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from urllib.parse import parse_qs

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from guardbook.catalogue.access import Access, Viewer

ASKED_FROM_HERE = frozenset({"same-origin", "none"})
SIGNS_OF_A_PROXY = (
    "forwarded",
    "via",
    "x-forwarded-for",
    "x-forwarded-host",
    "x-forwarded-proto",
    "x-real-ip",
)


@dataclass(frozen=True)
class Asking:
    """Puts the catalogue, as the one who asks may see it, into `request.state.access`.

    `access_for` gives the catalogue as one viewer sees it; with `public_only` everybody is the public.
    """

    app: ASGIApp
    access_for: Callable[[Viewer], Access]
    public_only: bool = False

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "http":
            viewer = Viewer.PUBLIC if self.public_only else viewer_of(scope)
            scope = {**scope, "state": {**scope.get("state", {}), "access": self.access_for(viewer)}}
        await self.app(scope, receive, send)


def viewer_of(scope: Scope) -> Viewer:
    """Tell whose request this is: the workshop's, or anybody's."""
    headers = Headers(scope=scope)
    query = parse_qs(scope.get("query_string", b"").decode("latin-1"))
    ours = (
        _is_loopback((scope.get("client") or ("",))[0])
        and _is_loopback(_host_name(headers.get("host", "")))
        and not any(name in headers for name in SIGNS_OF_A_PROXY)
        and _from_this_site(headers, scope.get("scheme", "http"))
        and "public" not in query.get("as", ())
    )
    return Viewer.WORKSHOP if ours else Viewer.PUBLIC


def _from_this_site(headers: Mapping[str, str], scheme: str) -> bool:
    own_origin = f"{scheme}://{headers.get('host', '')}"
    site = headers.get("sec-fetch-site", "none")
    return site in ASKED_FROM_HERE and headers.get("origin", own_origin) == own_origin


def _host_name(host: str) -> str:
    """Give the host of a `Host` header without its port.

    >>> _host_name("[::1]:8000"), _host_name("localhost:8000")
    ('::1', 'localhost')
    """
    if host.startswith("["):
        return host[1:].partition("]")[0]
    return host.partition(":")[0]


def _is_loopback(name: str) -> bool:
    if name.lower() == "localhost":
        return True
    try:
        address = ipaddress.ip_address(name)
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)
    return (mapped or address).is_loopback
