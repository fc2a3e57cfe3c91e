"""The page on which a piece is put in its place on the drawing of its volume."""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from guardbook.actions.ground_for_placing import ground_for_placing
from guardbook.actions.place_in_hand import PlaceInHand, place_in_hand
from guardbook.actions.save_place import save_place
from guardbook.catalogue.access import Access, Revision, Viewer
from guardbook.errors import Doubtful, InvalidRecord, NotAllowed, RevisionRequired, StaleRevision
from guardbook.pages.placing_form import PlacingForm
from guardbook.pages.record_parts import number_asked
from guardbook.pages.rendering import Asked, page, short
from guardbook.wording import _

router = APIRouter(include_in_schema=False)


@router.get("/host/{identifier}/place")
def place(request: Request, access: Asked, identifier: str) -> Response:
    """Show the place of a piece on the drawing of its volume, to be corrected or said for the first time."""
    _workshop_only(access)
    asked = request.query_params
    in_hand = place_in_hand(
        access,
        f"host/{identifier}",
        asked.get("piece", ""),
        asked.get("placing", ""),
        number_asked(request, "stage"),
    )
    form = PlacingForm.opened(
        in_hand,
        at=asked.get("position", ""),
        plane=asked.get("plane", ""),
        saved=number_asked(request, "saved"),
    )
    return page(request, "place.html", form=form, who=asked.get("who", ""))


@router.get("/host/{identifier}/ground.json")
def ground(request: Request, access: Asked, identifier: str) -> Response:
    """Give the planes of a volume, for a piece to be placed on, in the language of the page that asks.

    `plane` names more of them, such as `fold-7`, on which nothing lies yet; it can be given several times.
    """
    planes = request.query_params.getlist("plane")
    found = ground_for_placing(access, f"host/{identifier}", number_asked(request, "stage"), planes)
    return JSONResponse(found.as_json())


@router.post("/host/{identifier}/place")
async def save(request: Request, access: Asked, identifier: str) -> Response:
    """Save the place, or give the form back with all that was typed and what is wrong with it."""
    _workshop_only(access)
    sent = await request.form()
    in_hand = place_in_hand(
        access, f"host/{identifier}", _said(sent, "piece"), _said(sent, "placing"), _whole(sent, "stageSeen")
    )
    form = PlacingForm(
        in_hand=in_hand,
        texts={name: tuple(map(str, sent.getlist(name))) for name in sent},
        at=_whole(sent, "at") or 0,
        revision=_whole(sent, "revision"),
    )
    try:
        saved = _save(access, in_hand, form, sent)
    except (InvalidRecord, Doubtful, StaleRevision, RevisionRequired) as error:
        refused = form.refused(error, is_doubt=isinstance(error, Doubtful))
        return page(request, "place.html", status=error.status, form=refused, who=_said(sent, "who"))
    words = {"piece": in_hand.piece.short, "placing": short(saved.iri), "saved": saved.number}
    return RedirectResponse(f"{request.url.path}?{urlencode(words)}", 303)


def _save(access: Access, in_hand: PlaceInHand, form: PlacingForm, sent: FormData) -> Revision:
    return save_place(
        access,
        in_hand,
        form.texts,
        started_from=form.revision,
        piece_started_from=_whole(sent, "pieceRevision") or in_hand.piece_revision,
        who=_said(sent, "who") or _("the workshop"),
        what_for=_said(sent, "whatFor") or "placed on the drawing of the volume",
        sure=_said(sent, "sure") == "yes",
    )


def _workshop_only(access: Access) -> None:
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("Only the machine that the catalogue runs on may change it."))


def _said(sent: FormData, name: str) -> str:
    value = sent.get(name, "")
    return value.strip() if isinstance(value, str) else ""


def _whole(sent: FormData, name: str) -> int | None:
    text = _said(sent, name)
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None
