"""Every error over HTTP as RFC 9457 problem details, those of the framework too."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, cast

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Match

from guardbook.errors import Busy, Fault, GuardbookError, MethodNotAllowed, NotFound, WrongUse
from guardbook.wording import _

MEDIA_TYPE = "application/problem+json"
_SOON_SECONDS = 10
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE")

# pages of other sites may read, as the public does, and nothing else (Fetch standard, CORS preflight)
_PREFLIGHT = {
    "Access-Control-Allow-Methods": "GET, HEAD",
    "Access-Control-Allow-Headers": "Accept, Accept-Language, If-None-Match, If-Modified-Since, Range",
    "Access-Control-Max-Age": "86400",
}
_EXPECTED = {
    "missing": "a value",
    "int_parsing": "a whole number",
    "bool_parsing": "true or false",
    "greater_than_equal": "{ge} or more",
    "less_than_equal": "{le} or less",
    "literal_error": "{expected}",
    "enum": "{expected}",
}


def problem(error: GuardbookError, headers: Mapping[str, str] | None = None) -> Response:
    """Give an error as an answer."""
    body = json.dumps(error.problem(), ensure_ascii=False, default=str)
    return Response(body, error.status, headers=headers, media_type=MEDIA_TYPE)


def answer_errors(app: FastAPI) -> None:
    """Have the application answer every error with a problem."""
    app.add_exception_handler(GuardbookError, _ours)
    app.add_exception_handler(HTTPException, _of_the_framework)
    app.add_exception_handler(RequestValidationError, _not_understood)
    app.add_exception_handler(Exception, _unforeseen)


def _ours(_request: Request, error: Exception) -> Response:
    found = cast(GuardbookError, error)
    return problem(found, {"Retry-After": str(_SOON_SECONDS)} if isinstance(found, Busy) else None)


def _of_the_framework(request: Request, error: Exception) -> Response:
    path = request.url.path
    match (found := cast(HTTPException, error)).status_code:
        case 404:
            told = _("There is nothing at {path}. All addresses: {list}.")
            return problem(NotFound(message=told.format(path=path, list=f"{_root(request)}/api")))
        case 405:
            allowed = ", ".join(_methods_at(request))
            if request.method == "OPTIONS":
                return Response(status_code=204, headers={"Allow": f"{allowed}, OPTIONS", **_PREFLIGHT})
            message = f"{path} does not answer {request.method}, only {allowed}."
            return problem(MethodNotAllowed(message=message), {"Allow": allowed})
        case _:
            return problem(WrongUse(message=str(found.detail)))


def _root(request: Request) -> str:
    return str(request.scope.get("root_path", ""))


def _methods_at(request: Request) -> list[str]:
    """List what may be done at this address, by whichever route."""
    routes = request.app.router.routes
    return [
        method
        for method in METHODS
        if any(
            route.matches({**request.scope, "method": "GET" if method == "HEAD" else method})[0] is Match.FULL
            for route in routes
        )
    ]


def _not_understood(_request: Request, error: Exception) -> Response:
    faults = tuple(_fault(found) for found in cast(RequestValidationError, error).errors())
    return problem(WrongUse(message="The request could not be understood.", faults=faults))


def _fault(found: Mapping[str, Any]) -> Fault:
    context = found.get("ctx", {})
    template = _EXPECTED.get(found["type"], found["msg"])
    shown = "nothing" if found["type"] == "missing" else repr(found.get("input"))[:80]
    where = ".".join(map(str, found["loc"]))
    return Fault(where=where, found=shown, expected=template.format(**context) if context else template)


def _unforeseen(_request: Request, _error: Exception) -> Response:
    """Answer what nobody foresaw; the framework passes it on to the server's log afterwards."""
    message = "An error in Guardbook itself; nothing was saved. The log of the server says more."
    return problem(GuardbookError(message=message))
