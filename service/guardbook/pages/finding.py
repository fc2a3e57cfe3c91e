"""The first page, and the page to find records by words, facets and dates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook.actions.bench import bench
from guardbook.actions.dates_found import Run, dates_found
from guardbook.actions.find_records import (
    Facet,
    FacetValue,
    facet_label,
    facet_value_in_words,
    facets_in_words,
    find_records,
)
from guardbook.actions.harvested import find_harvested
from guardbook.actions.kind_words import kinds_in_words
from guardbook.actions.tell_hits import HitTold, tell_hits
from guardbook.catalogue.access import Access, Found, Viewer
from guardbook.pages.asked import VIEWS, Question, question_in
from guardbook.pages.found_drawn import axis_of, draw_bounds, draw_histogram
from guardbook.pages.rendering import Asked, page
from guardbook.records.kinds import KINDS
from guardbook.wording import _

router = APIRouter(include_in_schema=False)

ON_A_PAGE = 24
MOST_VALUES, MOST_MORE_VALUES = 7, 60
SHOWN_FACETS = ("kind", "function", "material", "host", "keeper", "whereNow", "completeFor", "hasImage")
SHOWN_PIECES = 4
SHOWN_ELSEWHERE = 10


@dataclass(frozen=True)
class Choice:
    """A value to narrow the search down by, or to take back: its label, its count, where that leads."""

    name: str
    label: str
    count: int
    address: str
    is_chosen: bool


@dataclass(frozen=True)
class Choices:
    """The values of one facet: those that most records have, and the rest."""

    label: str
    first: tuple[Choice, ...]
    more: tuple[Choice, ...]


@router.get("/")
def home(request: Request, access: Asked) -> HTMLResponse:
    """Show what this is, some pieces of it, and what can be done here."""
    every = find_records(access, limit=1)
    pictured = find_records(
        access, kind="fragment", facets={"hasImage": "yes"}, limit=SHOWN_PIECES, patience_seconds=0
    )
    return page(
        request,
        "home.html",
        counts={kind: every.facets.get("kind", {}).get(kind, 0) for kind in KINDS},
        names={kind: kinds_in_words(model) for kind, model in KINDS.items()},
        shown=tell_hits(access, pictured.hits, with_pictures=True),
        bench=bench(access, patience_seconds=0).sections if access.viewer is Viewer.WORKSHOP else (),
    )


@router.get("/search")
def search(request: Request, access: Asked) -> HTMLResponse:
    """Show what was found, and by what it can be narrowed down."""
    asked = question_in(request.query_params)
    found = find_records(
        access, asked.words, kind=asked.kind or None, facets=asked.facets, limit=ON_A_PAGE, offset=asked.start
    )
    told = tell_hits(access, found.hits, with_pictures=asked.view == "pictures")
    runs = dates_found(access, asked.words, kind=asked.kind or None, facets=asked.facets)
    return page(
        request,
        "search.html",
        asked=asked,
        as_written=bool(asked.words),
        heading=_heading(asked),
        found=found,
        told=told,
        facets=list(_facets(access, found, asked)),
        chosen=list(_chosen(access, asked)),
        histogram=_histogram(request, runs, asked) if len(runs) > 1 else "",
        runs=runs,
        views=list(_views(asked)),
        elsewhere=find_harvested(access, asked.words, SHOWN_ELSEWHERE) if asked.words else (),
        earlier=asked.but(start=max(asked.start - ON_A_PAGE, 0)).address if asked.start else None,
        later=_later(asked, found),
        **_timeline(told, asked),
    )


def _heading(asked: Question) -> str:
    if asked.words:
        return _("“{words}”").format(words=asked.words)
    if asked.kind in KINDS:
        return kinds_in_words(KINDS[asked.kind])
    return _("All records")


def _later(asked: Question, found: Found) -> str | None:
    following = asked.start + ON_A_PAGE
    return asked.but(start=following).address if following < found.total else None


def _facets(access: Access, found: Found, asked: Question) -> Iterator[Choices]:
    by_name = {facet.name: facet for facet in facets_in_words(access, found)}
    by_name["kind"] = _kinds(access, asked)
    for name in SHOWN_FACETS:
        if (facet := by_name.get(name)) and facet.values:
            choices = [_choice(facet, value, asked) for value in facet.values]
            yield Choices(
                facet.label, tuple(choices[:MOST_VALUES]), tuple(choices[MOST_VALUES:][:MOST_MORE_VALUES])
            )


def _kinds(access: Access, asked: Question) -> Facet:
    """Give the kinds that the question finds without its own, so that one can change over."""
    wide = find_records(access, asked.words, facets=asked.facets, limit=1, patience_seconds=0)
    counts = wide.facets.get("kind", {})
    values = (
        FacetValue(value=kind, label=kinds_in_words(model), count=counts[kind])
        for kind, model in KINDS.items()
        if kind in counts
    )
    return Facet(name="kind", label=facet_label("kind"), values=tuple(values))


def _choice(facet: Facet, value: FacetValue, asked: Question) -> Choice:
    is_chosen = asked.value_of(facet.name) == value.value
    other = asked.without(facet.name) if is_chosen else asked.with_facet(facet.name, value.value)
    return Choice(facet.name, value.label, value.count, other.address, is_chosen)


def _chosen(access: Access, asked: Question) -> Iterator[tuple[str, str]]:
    """Give what the search is narrowed down by, in words, each with the address without it."""
    kind = {"kind": asked.kind} if asked.kind else {}
    for name, value in {**kind, **asked.chosen}.items():
        said = _("{facet}: {value}").format(
            facet=facet_label(name), value=facet_value_in_words(access, name, value)
        )
        yield said, asked.without(name).address
    if (asked.since or asked.until) and not asked.wrong:
        years = _("{first} to {last}").format(first=asked.since or "…", last=asked.until or "…")
        yield (
            _("{facet}: {value}").format(facet=facet_label("date"), value=years),
            asked.but(since="", until="", wrong="").address,
        )


def _histogram(request: Request, runs: Sequence[Run], asked: Question) -> str:
    root = str(request.scope.get("root_path", ""))

    def to(run: Run) -> str:
        return root + asked.but(since=str(run.first), until=str(run.last), wrong="").address

    return draw_histogram(runs, (asked.since, asked.until), to)


def _views(asked: Question) -> Iterator[tuple[str, str, bool]]:
    names = {"list": _("List"), "pictures": _("Pictures"), "timeline": _("Timeline")}
    for view in VIEWS:
        yield names[view], asked.but(view=view, start=asked.start).address, view == asked.view


def _timeline(told: Sequence[HitTold], asked: Question) -> dict[str, Any]:
    axis = axis_of(one.days for one in told) if asked.view == "timeline" else None
    bars = [draw_bounds(one.days, axis, ", ".join(one.said)) if axis and one.days else "" for one in told]
    return {"axis": axis, "bars": bars}
