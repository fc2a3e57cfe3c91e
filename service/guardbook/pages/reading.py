"""The pages of records: the drawing first, then what is known, what is missing, and how to cite it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from guardbook.actions.check_record import check_record
from guardbook.actions.cite_record import cite_record
from guardbook.actions.draw_event import draw_event
from guardbook.actions.draw_rejoined import draw_rejoined
from guardbook.actions.pictures_shown import picture_shown, pictures_shown
from guardbook.actions.record_history import record_history, told_history
from guardbook.actions.show_record import show_record, show_revision
from guardbook.binding.dossier import piece_of
from guardbook.binding.drawing.leaf import leaf_words
from guardbook.catalogue.access import Access
from guardbook.errors import NotFound, WrongUse
from guardbook.exports.formats import FORMATS
from guardbook.pages.record_parts import (
    Shown,
    binding_parts,
    drawn,
    evidence_parts,
    missing_parts,
    piece_parts,
    to_record,
)
from guardbook.pages.rendering import Asked, page, short
from guardbook.pages.schema_org import schema_org
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.image import Image
from guardbook.records.kinds import EVENT_KINDS
from guardbook.wording import _, language

router = APIRouter(include_in_schema=False)

OTHER_FORMS = tuple(FORMATS[name] for name in ("turtle", "jsonld", "ntriples", "trig", "nquads", "rdfxml"))
CITED_AS = tuple(FORMATS[name] for name in ("bibtex", "ris", "csl", "datacite"))
MORE_FORMS = tuple(FORMATS[name] for name in ("tei", "crm"))
LAST_REVISIONS = 4


class _Kind(NamedTuple):
    """How records of a kind are shown: the template, and what it needs beside the record."""

    template: str
    parts: Callable[[Request, Access, Record], Shown]


@router.get("/{kind}/{identifier}.html")
def record(request: Request, access: Asked, kind: str, identifier: str) -> Response:
    """Show a record; a part of a volume's page alone where a script asks for that."""
    iri = _resolved(access, kind, identifier)
    if short(iri) != f"{kind}/{identifier}":
        return _moved(request, f"{short(iri)}.html")
    if (number := request.query_params.get("revision", "")).isdecimal():
        return RedirectResponse(f"{request.scope.get('root_path', '')}/{short(iri)}/history/{number}", 302)
    found = access.record(iri).record
    shown_as = KINDS_SHOWN.get(found.kind, _Kind("record.html", _nothing_more))
    if found.kind == "host" and request.headers.get("HX-Target") == "binding":
        return page(request, "binding.html", record=found, **binding_parts(request, access, iri))
    revisions = record_history(access, iri)
    return page(
        request,
        shown_as.template,
        shown=show_record(access, iri, language()),
        record=found,
        forms=OTHER_FORMS,
        cited_as=CITED_AS,
        more_forms=[one for one in MORE_FORMS if not one.kinds or found.kind in one.kinds],
        citation=cite_record(access, iri),
        schema_org=schema_org(request, access, iri),
        revisions=revisions[: -LAST_REVISIONS - 1 : -1],
        revision_count=len(revisions),
        **missing_parts(access, iri),
        **shown_as.parts(request, access, found),
    )


def _nothing_more(_request: Request, _access: Access, _record: Record) -> Shown:
    return {}


def _volume(request: Request, access: Access, found: Record) -> Shown:
    parts = binding_parts(request, access, found.id)
    return {**parts, **evidence_parts(access, found.id), "pictures": pictures_shown(access, found.id)}


def _piece(request: Request, access: Access, found: Record) -> Shown:
    return {**piece_parts(request, access, found.id), **evidence_parts(access, found.id)}


def _carrier(request: Request, access: Access, found: Record) -> Shown:
    wide = draw_rejoined(access, found.id, link=to_record(request), id_prefix="wide")
    leaves = [
        (leaf, leaf_words(leaf), tuple(map(drawn, svgs)))
        for leaf, *svgs in zip(wide.rejoined.leaves, wide.svgs, wide.narrow("narrow"), strict=True)
    ]
    return {"found": wide.rejoined, "leaves": leaves}


def _event(request: Request, access: Access, found: Record) -> Shown:
    if not isinstance(found, Event):
        return {}
    told = draw_event(access, found, link=to_record(request))
    piece = piece_of(found)
    if told is None and piece and access.has(piece):
        return {"event": None, **piece_parts(request, access, piece)}
    sides = [("before", told.before), ("after", told.after)] if told else []
    drawings = [(side, drawn(one.svg), one.scene) for side, one in sides if one]
    return {"event": told, "event_drawings": drawings, "place": None, "faces": []}


def _image(_request: Request, access: Access, found: Record) -> Shown:
    return {"picture": picture_shown(access, found) if isinstance(found, Image) else None}


def _about(request: Request, access: Access, found: Record) -> Shown:
    """Show the first piece or volume that a reading or a decision is about."""
    about = [iri for iri in getattr(found, "about", ()) if access.has(iri)]
    for iri in about:
        if access.record(iri).record.kind == "host":
            return {"about": iri, "place": None, "faces": [], **binding_parts(request, access, iri)}
        if access.record(iri).record.kind == "fragment":
            return {"about": iri, "binding": None, **piece_parts(request, access, iri)}
    return {"about": None, "place": None, "binding": None, "faces": []}


KINDS_SHOWN: MappingProxyType[str, _Kind] = MappingProxyType(
    {
        "host": _Kind("volume.html", _volume),
        "fragment": _Kind("piece.html", _piece),
        "carrier": _Kind("carrier.html", _carrier),
        "image": _Kind("image.html", _image),
        "reading": _Kind("about.html", _about),
        "decision": _Kind("about.html", _about),
        **{kind: _Kind("event.html", _event) for kind in EVENT_KINDS},
    }
)


@router.get("/{kind}/{identifier}/check")
def check(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show what is missing."""
    iri = _resolved(access, kind, identifier)
    stage = request.query_params.get("for") or None
    return page(request, "check.html", iri=iri, report=check_record(access, iri, stage), stages=_stages())


def _stages() -> Mapping[str, str]:
    """Give the stages of a record in words, by their names in an address."""
    return {
        "on-sight": _("on sight"),
        "before-lifting": _("before lifting"),
        "after-lifting": _("after lifting"),
        "ready-to-share": _("ready to share"),
    }


@router.get("/{kind}/{identifier}/history")
def history(request: Request, access: Asked, kind: str, identifier: str) -> HTMLResponse:
    """Show every revision of a record, and what each changed."""
    iri = _resolved(access, kind, identifier)
    return page(request, "history.html", iri=iri, told=told_history(access, iri))


@router.get("/{kind}/{identifier}/history/{number}")
def revision(request: Request, access: Asked, kind: str, identifier: str, number: int) -> HTMLResponse:
    """Show a record as it was at a revision, to look up what was cited."""
    iri = _resolved(access, kind, identifier)
    shown = show_revision(access, iri, number, language())
    newest = record_history(access, iri)[-1].number
    return page(request, "revision.html", iri=iri, shown=shown, newest=newest)


@router.get("/fragment/{identifier}/where")
def where(request: Request, access: Asked, identifier: str) -> Response:
    """Lead to where the piece's page tells where it sat, which once was a page of its own."""
    return _moved(request, f"{short(_resolved(access, 'fragment', identifier))}.html", "#where")


@router.get("/host/{identifier}/pieces")
def pieces(request: Request, access: Asked, identifier: str) -> Response:
    """Lead to the pieces on the volume's page, which once had a page of their own."""
    return _moved(request, f"{short(_resolved(access, 'host', identifier))}.html", "#pieces")


@router.get("/host/{identifier}/drawn")
def volume_drawn(request: Request, access: Asked, identifier: str) -> Response:
    """Lead to the volume's page, which has the drawing that once had a page of its own."""
    return _moved(request, f"{short(_resolved(access, 'host', identifier))}.html")


@router.get("/carrier/{identifier}/rejoined")
def rejoined(request: Request, access: Asked, identifier: str) -> Response:
    """Lead to the carrier's page, which has the leaves that once had a page of their own."""
    return _moved(request, f"{short(_resolved(access, 'carrier', identifier))}.html")


def _moved(request: Request, to: str, part: str = "") -> RedirectResponse:
    asked = f"?{request.url.query}" if request.url.query else ""
    return RedirectResponse(f"{request.scope.get('root_path', '')}/{to}{asked}{part}", 301)


def _resolved(access: Asked, kind: str, identifier: str) -> str:
    try:
        return access.resolve(f"{kind}/{identifier}")
    except WrongUse as error:
        raise NotFound(message=error.message, faults=error.faults) from error
