"""The page that describes the catalogue as a dataset."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook import settings
from guardbook.actions.describe_dataset import dataset_for_search_engines, facts_of
from guardbook.exports.dataset.description import DUMPS
from guardbook.pages.rendering import Asked, page
from guardbook.pages.schema_org import data_block

router = APIRouter(include_in_schema=False)

FORMS = (("Turtle", ".ttl"), ("JSON-LD", ".jsonld"), ("RDF/XML", ".rdf"), ("N-Triples", ".nt"))


@router.get("/dataset.html")
def dataset(request: Request, access: Asked) -> HTMLResponse:
    """Show what the catalogue holds, in numbers, and how programs take it, follow it and ask it."""
    facts = facts_of(access, str(request.base_url))
    return page(
        request,
        "dataset.html",
        facts=facts,
        classes=_by_count(facts.classes),
        properties=_by_count(facts.properties),
        dumps=DUMPS,
        forms=FORMS,
        licence=settings.current().licence,
        schema_org=data_block(dataset_for_search_engines(str(request.base_url))),
    )


def _by_count(counts: Mapping[str, int] | None) -> list[tuple[str, int]]:
    return sorted((counts or {}).items(), key=lambda pair: (-pair[1], pair[0]))
