"""Registering a piece at the bench: first its volume, then one form in the order in which the hands work."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from guardbook.actions.choose_volume import choose_volume
from guardbook.actions.form_parts import input_named
from guardbook.actions.register_piece import Registration, registration_form, send_registration
from guardbook.pages.forms import PostedForm
from guardbook.pages.placing_fields import PlacingFields
from guardbook.pages.rendering import Asked, page, short

router = APIRouter(include_in_schema=False)


@router.get("/register")
def start(request: Request, access: Asked, volume: str = "") -> HTMLResponse:
    """Ask for the volume."""
    found = choose_volume(access, volume)
    return page(request, "forms/start.html", words=volume, total=found.total, volumes=found.volumes)


@router.get("/register/piece")
def begin(request: Request, access: Asked, volume: str = "") -> Response:
    """Show the empty form for a piece of a volume; without one, ask for it first."""
    if not volume:
        return RedirectResponse(f"{request.scope.get('root_path', '')}/register", 303)
    return _shown(request, registration_form(access, volume))


@router.post("/register/piece")
def register(request: Request, access: Asked, sent: PostedForm) -> Response:
    """Save everything that the form makes, or show it again with what is to be mended."""
    files = [(one.name, one.file_name, one.content) for one in sent.files]
    done = send_registration(access, sent.texts, files)
    if done.form:
        return _shown(request, done.form, status=422 if done.is_wrong else 200, was_typed=True)
    root = request.scope.get("root_path", "")
    return RedirectResponse(f"{root}/{short(done.saved[0].iri)}/saved", 303)


def _shown(
    request: Request, form: Registration, *, status: int = 200, was_typed: bool = False
) -> HTMLResponse:
    return page(
        request,
        "forms/register.html",
        status=status,
        form=form,
        sections=[section for step in form.steps for section in (*step.sections, step.of_photographs)],
        place=_place(form),
        was_typed=was_typed,
        input_named=input_named,
    )


def _place(form: Registration) -> PlacingFields:
    host = form.host if form.host.startswith("host/") else ""
    return PlacingFields(host=host, stage=form.in_hand.stage if form.in_hand else None)
