"""Forms for records of every kind: to edit one, to add one, and what was understood while one types."""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import APIRouter, Depends
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from guardbook.actions.edit_record import Form, form_to_add, form_to_edit, send_form
from guardbook.actions.form_parts import input_named
from guardbook.actions.form_words import suggested_for, understood_as
from guardbook.actions.show_record import show_record
from guardbook.catalogue.access import Viewer
from guardbook.errors import NotAllowed
from guardbook.pages.placing_fields import PlacingFields
from guardbook.pages.posted import Posted, posted
from guardbook.pages.rendering import Asked, page, short
from guardbook.wording import _, language

router = APIRouter(include_in_schema=False)


async def _posted(request: Request, access: Asked) -> AsyncIterator[Posted]:
    """Read the form, once it is known that it may be sent at all."""
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("Only the machine that the catalogue runs on may change it."))
    async with posted(request) as sent:
        yield sent


PostedForm = Annotated[Posted, Depends(_posted)]


@router.get("/{kind}/{identifier}/edit")
def edit(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show the form of a record."""
    return _shown(request, form_to_edit(access, f"{kind}/{identifier}"))


@router.post("/{kind}/{identifier}/edit")
def save(request: Request, access: Asked, sent: PostedForm, kind: str, identifier: str) -> Response:
    """Save it, or show it again with what is to be mended."""
    return _answered(request, access, sent, name=f"{kind}/{identifier}")


@router.get("/new/{kind}")
def new(request: Request, access: Asked, kind: str) -> HTMLResponse:
    """Show an empty form; what the address says of fields stands in it already."""
    given = {name: (value,) for name, value in request.query_params.items()}
    return _shown(request, form_to_add(access, kind, given))


@router.post("/new/{kind}")
def add(request: Request, access: Asked, sent: PostedForm, kind: str) -> Response:
    """Save a new record, or show the form again."""
    return _answered(request, access, sent, kind=kind)


@router.get("/{kind}/{identifier}/saved")
def saved(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Say that a record is saved, and where one may go from here."""
    return page(request, "forms/saved.html", shown=show_record(access, f"{kind}/{identifier}", language()))


@router.get("/form/understood")
def understood(access: Asked, model: str, field: str, text: str = "") -> JSONResponse:
    """Say how a text is read, or what is wrong with it."""
    return JSONResponse(understood_as(access, model, field, text))


@router.get("/form/suggested")
def suggested(access: Asked, kinds: str, words: str = "") -> JSONResponse:
    """Give records that an input can name, found by some words."""
    found = suggested_for(access, kinds, words)
    return JSONResponse([{"value": one.value, "label": one.label} for one in found])


def _answered(request: Request, access: Asked, sent: Posted, *, name: str = "", kind: str = "") -> Response:
    done = send_form(access, sent.texts, name=name, kind=kind)
    if done.form:
        return _shown(request, done.form, status=422 if done.is_wrong else 200, was_typed=True)
    root = request.scope.get("root_path", "")
    return RedirectResponse(f"{root}/{short(done.saved[0].iri)}/saved", 303)


def _shown(request: Request, form: Form, *, status: int = 200, was_typed: bool = False) -> HTMLResponse:
    return page(
        request,
        "forms/edit.html",
        status=status,
        form=form,
        place=_place(form),
        was_typed=was_typed,
        input_named=input_named,
    )


def _place(form: Form) -> PlacingFields:
    """Give what the drawing of a place needs to know."""
    if form.in_hand is None:
        return PlacingFields(host_input=f"{form.kind}-host")
    one = form.in_hand
    return PlacingFields(
        host=one.host.id, stage=one.stage, piece=one.piece.id, shape=one.shape, known=one.piece.features
    )
