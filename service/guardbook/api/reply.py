"""What most answers share: JSON as the terminal prints it, and the revision as `ETag`."""

from __future__ import annotations

import json
from typing import Annotated, Any, cast

from fastapi import Depends
from starlette.requests import Request
from starlette.responses import Response

from guardbook.actions.answers import as_json
from guardbook.catalogue.access import Access, Kept, Viewer
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


def entity_tag(access: Access, kept: Kept) -> str:
    """Give the strong entity tag of a record: its revision.

    What the public sees of a record also hangs on others (a person who no longer wants to be named), so its
    tag changes with every save.
    """
    if access.viewer is Viewer.WORKSHOP:
        return f'"{kept.revision}"'
    return f'"{kept.revision}-public-{access.sequence}"'


def unchanged(request: Request, tag: str) -> bool:
    """Tell whether the asker already has this version (RFC 9110, section 13.1.2: weak comparison)."""
    known = [part.strip().removeprefix("W/") for part in request.headers.get("if-none-match", "").split(",")]
    return tag in known or "*" in known


def record_reply(request: Request, access: Access, kept: Kept) -> Response:
    """Give a record as its JSON document, or say that it has not changed."""
    headers = {"ETag": entity_tag(access, kept)}
    if unchanged(request, headers["ETag"]):
        return Response(status_code=304, headers=headers)
    return json_reply(kept.record, headers=headers)
