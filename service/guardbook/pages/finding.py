"""The first page and the search."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.find_records import Facet, facets_in_words, find_records
from guardbook.actions.kind_words import kind_in_words
from guardbook.pages.rendering import Asked, page
from guardbook.records.kinds import KINDS

router = APIRouter(include_in_schema=False)

ON_A_PAGE = 25
MOST_FACETS, MOST_VALUES = 8, 8
NO_FACETS = {"q", "kind", "start", "as"}


@dataclass(frozen=True)
class Choice:
    """A value to narrow the search down by, or to take back: its label, its count, where that leads."""

    label: str
    count: int
    address: str
    is_chosen: bool


@router.get("/")
def home(request: Request, access: Asked) -> HTMLResponse:
    """Show how much there is of what."""
    counts = {kind: find_records(access, kind=kind, limit=1).total for kind in KINDS}
    names = {kind: kind_in_words(model) for kind, model in KINDS.items()}
    return page(request, "home.html", counts=counts, names=names)


@router.get("/search")
def search(request: Request, access: Asked, q: str = "", kind: str = "", start: int = 0) -> HTMLResponse:
    """Show what was found, and by what it can be narrowed down."""
    chosen = {name: value for name, value in request.query_params.items() if name not in NO_FACETS}
    found = find_records(access, q, kind=kind or None, facets=chosen, limit=ON_A_PAGE, offset=start)
    facets = facets_in_words(access, found)[:MOST_FACETS]
    asked = {name: value for name, value in {"q": q, "kind": kind, **chosen}.items() if value}
    return page(
        request,
        "search.html",
        words=q,
        kind=kind,
        chosen=chosen,
        found=found,
        start=start,
        facets=[(facet.label, list(_choices(facet, asked))) for facet in facets],
        earlier=_address(asked, start=max(start - ON_A_PAGE, 0)) if start else None,
        later=_address(asked, start=start + ON_A_PAGE) if start + ON_A_PAGE < found.total else None,
        names={kind: kind_in_words(model) for kind, model in KINDS.items()},
    )


def _choices(facet: Facet, asked: dict[str, str]) -> Iterator[Choice]:
    for value in facet.values[:MOST_VALUES]:
        is_chosen = asked.get(facet.name) == value.value
        others = {name: kept for name, kept in asked.items() if name != facet.name}
        address = _address(others if is_chosen else {**asked, facet.name: value.value})
        yield Choice(value.label, value.count, address, is_chosen)


def _address(asked: dict[str, str], start: int = 0) -> str:
    return "search?" + urlencode({**asked, **({"start": start} if start else {})})
