"""What another site's page may not have a browser do here: change anything, or seem to."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from guardbook import settings
from guardbook.api.asking import ASKED_FROM_HERE
from guardbook.api.problems import problem
from guardbook.errors import NotAllowed

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
# asked by POST where a question is long; nothing is changed there
ONLY_ASKED = frozenset({"/sparql"})


@dataclass(frozen=True)
class OwnSiteOnly:
    """Refuses whatever could change something where the browser says that another site's page sent it.

    Source: OWASP, *Cross-Site Request Forgery Prevention Cheat Sheet*, on Fetch Metadata and on verifying
    the origin (from memory). Programs send neither header; who they are is decided in `asking`.
    """

    app: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "http" and not _is_safe(scope) and is_foreign(scope):
            refusal = NotAllowed(
                message="This came from a page of another site, so nothing was changed. "
                "Open the page on this site, and send it from there."
            )
            await problem(refusal)(scope, receive, send)
            return
        await self.app(scope, receive, send)


def _is_safe(scope: Scope) -> bool:
    path = scope["path"].removeprefix(scope.get("root_path", ""))
    return scope["method"] in SAFE_METHODS or path in ONLY_ASKED


def is_foreign(scope: Scope) -> bool:
    """Tell whether a browser says that a page of another site, or of none, made it ask.

    `Origin` decides where a browser does not tell `Sec-Fetch-Site`: it must be the site that was asked, or,
    behind a proxy that asks by a name of its own, the site that the records' addresses are of.
    """
    headers = Headers(scope=scope)
    if site := headers.get("sec-fetch-site"):
        return site not in ASKED_FROM_HERE
    origin = headers.get("origin")
    own = f"{scope.get('scheme', 'http')}://{headers.get('host', '')}"
    base = urlsplit(settings.current().base)
    return origin is not None and origin not in {own, f"{base.scheme}://{base.netloc}"}
