"""The page before a removal: what is open, what can never be got again, and the way to go ahead."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from guardbook.actions.before_lifting import before_lifting, go_ahead
from guardbook.catalogue.access import Access
from guardbook.errors import GuardbookError
from guardbook.evidence.examinations import STATES, heading
from guardbook.pages.forms import PostedForm
from guardbook.pages.rendering import Asked, page, short

router = APIRouter(include_in_schema=False)

SENT = ("when", "because", "who", "revision")


@router.get("/{kind}/{identifier}/before-lifting")
def gate(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show what is not recorded, decided or consented to before a piece is lifted."""
    return _shown(request, access, f"{kind}/{identifier}", {"when": _today()})


@router.post("/{kind}/{identifier}/before-lifting")
def ahead(request: Request, access: Asked, sent: PostedForm, kind: str, identifier: str) -> Response:
    """Go ahead: the removal is made, and the reason kept; or show again what was typed, and what is wrong."""
    typed = {name: " ".join(sent.texts.get(name, ())) for name in SENT}
    name = f"{kind}/{identifier}"
    try:
        saved = go_ahead(
            access,
            name,
            started_from=int(typed["revision"]) if typed["revision"].isdecimal() else 0,
            when=typed["when"],
            because=typed["because"],
            who=typed["who"].strip() or "the workshop",
        )
    except GuardbookError as error:
        return _shown(request, access, name, typed, error)
    root = request.scope.get("root_path", "")
    return RedirectResponse(f"{root}/{short(saved.iri)}/before-lifting", 303)


def _shown(
    request: Request,
    access: Access,
    name: str,
    typed: dict[str, str],
    error: GuardbookError | None = None,
) -> HTMLResponse:
    found = before_lifting(access, name)
    return page(
        request,
        "before_lifting.html",
        status=error.status if error else 200,
        gate=found,
        typed={name: typed.get(name, "") for name in SENT},
        error=error,
        faults={fault.where: fault for fault in error.faults} if error else {},
        revision=access.record(found.removal.id).revision if found.removal else None,
        examinations=_by_state(found.examinations),
    )


def _today() -> str:
    """Give the day by the clock of this machine, which stands in the workshop."""
    return datetime.now().astimezone().date().isoformat()


def _by_state(found: Any) -> list[tuple[str, str, Any]]:
    if found is None:
        return []
    groups = [(state, heading(state), found.in_state(state)) for state in STATES]
    return [group for group in groups if group[2]]
