"""What most answers share: who asks, and JSON as the terminal prints it."""

from __future__ import annotations

import json
from typing import Annotated, Any, cast

from fastapi import Depends
from starlette.requests import Request
from starlette.responses import Response

from guardbook.actions.answers import as_json
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import NotAllowed


def _access(request: Request) -> Access:
    return cast(Access, request.state.access)


def _workshop(request: Request) -> Access:
    access = _access(request)
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message="Only the machine that the catalogue runs on may change it.")
    return access


Asked = Annotated[Access, Depends(_access)]
Workshop = Annotated[Access, Depends(_workshop)]


def json_reply(answer: Any, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """Give any answer as JSON."""
    body = json.dumps(as_json(answer), ensure_ascii=False)
    return Response(body, status, headers=headers, media_type="application/json")
