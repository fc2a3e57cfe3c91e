"""Errors for readers: the same problem that a program is given (RFC 9457), on a page."""

from __future__ import annotations

import json
from dataclasses import dataclass

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from guardbook.exports.negotiation import preferred
from guardbook.pages.rendering import page

PROBLEM = "application/problem+json"


@dataclass(frozen=True)
class ProblemPages:
    """Shows a problem as a page to whoever would rather read one; programs under `/api/` are left alone."""

    app: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http" or not _reads_pages(scope):
            await self.app(scope, receive, send)
            return
        held: list[Message] = []

        async def hold_problems(message: Message) -> None:
            if message["type"] == "http.response.start" and _is_problem(message):
                held.append(message)
            elif held and message["type"] == "http.response.body":
                held.append(message)
                if not message.get("more_body"):
                    await _show(held, scope, receive, send)
            else:
                await send(message)

        await self.app(scope, receive, hold_problems)


def _reads_pages(scope: Scope) -> bool:
    accept = Headers(scope=scope).get("accept")
    under_api = scope["path"].startswith(f"{scope.get('root_path', '')}/api/")
    return not under_api and preferred(accept, (PROBLEM, "text/html")) == "text/html"


def _is_problem(start: Message) -> bool:
    return Headers(raw=start["headers"]).get("content-type", "") == PROBLEM


async def _show(held: list[Message], scope: Scope, receive: Receive, send: Send) -> None:
    start, *bodies = held
    problem = json.loads(b"".join(body.get("body", b"") for body in bodies))
    shown = page(Request(scope), "problem.html", status=start["status"], problem=problem)
    for name, value in Headers(raw=start["headers"]).items():
        if name not in {"content-type", "content-length"}:
            shown.headers.append(name, value)
    await shown(scope, receive, send)
