"""What holds for every answer: `HEAD` for every `GET`, no `TRACE`, and headers that keep browsers careful."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from guardbook.catalogue.access import Viewer

# a page may show, run and ask what this host serves, send its forms here, show a picture that is about to be
# handed in (blob:), and nothing else
FOR_PAGES = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
# a document that is no page of ours, such as a picture that somebody handed in, runs nothing
FOR_THE_REST = "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; frame-ancestors 'none'"
ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
}


@dataclass(frozen=True)
class CarefulHeaders:
    """Adds the headers; what is not public is kept from other sites and from shared stores."""

    app: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in {**ALWAYS, **_policy(headers), **_sharing(scope)}.items():
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, send_with_headers if scope["type"] == "http" else send)


def _policy(headers: MutableHeaders) -> dict[str, str]:
    kind = headers.get("content-type", "").partition(";")[0]
    of_ours = kind == "text/html" or kind.endswith("/javascript")
    return {"Content-Security-Policy": FOR_PAGES if of_ours else FOR_THE_REST}


def _sharing(scope: Scope) -> dict[str, str]:
    access = scope.get("state", {}).get("access")
    if access is not None and access.viewer is Viewer.PUBLIC:
        return {
            "Access-Control-Allow-Origin": "*",
            "Access-Control-Expose-Headers": "ETag, Last-Modified, Link",
            "Cache-Control": "no-cache",
        }
    return {"Cross-Origin-Resource-Policy": "same-origin", "Cache-Control": "private, no-cache"}


@dataclass(frozen=True)
class HeadAsGet:
    """Answers `HEAD` as `GET` without the body (RFC 9110, section 9.3.2)."""

    app: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http" or scope["method"] != "HEAD":
            await self.app(scope, receive, send)
            return

        async def send_bare(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self.app({**scope, "method": "GET"}, receive, send_bare)
