"""Which language a page is in: what its reader chose, else what the browser asks for, else English."""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated

from fastapi import APIRouter, Form
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request, cookie_parser
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from guardbook.errors import Fault, WrongUse
from guardbook.wording import LANGUAGES, _, speaking

router = APIRouter(include_in_schema=False)

COOKIE = "language"
A_YEAR_IN_SECONDS = 365 * 24 * 3600
# each in its own words, so that it is recognised by those who read no other
NAMES = MappingProxyType(
    {
        "en": "English",
        "ca": "Català",
        "es": "Español",
        "fr": "Français",
        "de": "Deutsch",
        "it": "Italiano",
    }
)
# one slash, and neither a second one nor a backslash, which browsers take for one: no other host is meant
_ON_THIS_SITE = re.compile(r"/(?![/\\])[^\\\x00-\x20\x7f]*")
_FOR_PROGRAMS = ("/api/", "/iiif/")
_IN_A_LANGUAGE = ("text/html", "application/pdf", "image/svg+xml")


@dataclass(frozen=True)
class Speaking:
    """Answers in the language of whoever asks; programs (`/api/`, `/iiif/`) are answered in English."""

    app: ASGIApp

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http" or _asked_by_programs(scope):
            await self.app(scope, receive, send)
            return
        chosen = language_of(Headers(scope=scope))

        async def send_with_language(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                if headers.get("content-type", "").partition(";")[0] in _IN_A_LANGUAGE:
                    headers.setdefault("Content-Language", chosen)
                    headers.add_vary_header("Accept-Language, Cookie")
            await send(message)

        with speaking(chosen):
            await self.app(scope, receive, send_with_language)


def _asked_by_programs(scope: Scope) -> bool:
    return str(scope["path"]).removeprefix(str(scope.get("root_path", ""))).startswith(_FOR_PROGRAMS)


def language_of(headers: Headers) -> str:
    """Choose the language from the cookie, else from `Accept-Language`, else English."""
    chosen = cookie_parser(headers.get("cookie", "")).get(COOKIE, "")
    return chosen if chosen in LANGUAGES else liked_best(headers.get("accept-language", ""))


def liked_best(accepted: str) -> str:
    """Give our language that `Accept-Language` likes best, English where it likes none of ours.

    Source: RFC 9110, section 12.5.4, with the basic filtering of RFC 4647, section 3.3.1, turned around: who
    asks for `ca-ES` reads `ca`.

    >>> liked_best("pt, ca-ES;q=0.8, de;q=0.9"), liked_best("pt")
    ('de', 'en')
    """
    wanted = [_weighed(part) for part in accepted.split(",")]
    liked = [(-weight, place, one) for place, (one, weight) in enumerate(wanted) if weight > 0]
    ours = (one for _, _, one in sorted(liked) if one in LANGUAGES)
    return next(ours, LANGUAGES[0])


def _weighed(part: str) -> tuple[str, float]:
    tag, _, weight = part.partition(";")
    found = re.fullmatch(r"\s*q\s*=\s*([01](?:\.\d{0,3})?)\s*", weight)
    return tag.strip().lower().partition("-")[0], float(found[1]) if found else 1.0


def here(request: Request) -> str:
    """Give the address of this page within the site, to come back to."""
    path = request.url.path.removeprefix(str(request.scope.get("root_path", "")))
    query = request.url.query
    return f"{path}?{query}" if query else path


@router.post("/language")
def choose(
    request: Request, language: Annotated[str, Form()], back: Annotated[str, Form()] = "/"
) -> Response:
    """Remember the language that was chosen, and go back to where it was chosen.

    Raises WrongUse for a language that there is not.
    """
    if language not in NAMES:
        expected = _("one of {names}").format(names=", ".join(NAMES))
        fault = Fault(where="language", found=repr(language), expected=expected)
        raise WrongUse(message=_("The pages do not speak this language."), faults=(fault,))
    root = str(request.scope.get("root_path", ""))
    there = back if _ON_THIS_SITE.fullmatch(back) else "/"
    reply = RedirectResponse(root + there, 303)
    reply.set_cookie(
        COOKIE,
        language,
        max_age=A_YEAR_IN_SECONDS,
        path=root or "/",
        secure=request.url.scheme == "https",
        httponly=True,
        samesite="lax",
    )
    return reply
