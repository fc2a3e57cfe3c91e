"""The API as a whole: its addresses, its description, and what holds for every answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from starlette.responses import Response

import guardbook
from guardbook.api import (
    bench,
    dataset,
    drawings,
    evidence,
    exchange,
    harvested,
    iiif,
    leading,
    packets,
    papers,
    questions,
    records,
    sparql,
    things,
    vocabulary,
)
from guardbook.api.answers import DATACLASSES, WRITTEN_BY_HAND
from guardbook.api.problems import answer_errors
from guardbook.api.schemas import answer_schemas, record_schemas

ABOUT = """\
A catalogue of fragments taken out of bookbindings, of the volumes that held them, and of where each sat.

- **Records** are JSON documents that are JSON-LD too. Lengths are millimetres, angles degrees, dates EDTF
  (ISO 8601-2). Decimals are text, so that `45.50` keeps its digits.
- **Changes** start from a revision: get the record, and send its `ETag` back as `If-Match`. Only the machine
  that the catalogue runs on may make them; everybody else sees what is public.
- **`?as=public`** shows what the public sees.
- **Errors** are problem details (RFC 9457); `faults` lists everything that is wrong, and how to mend it.
"""
TAGS = [
    {"name": "Records", "description": "List and find records, get one, add, replace, change and take out."},
    {"name": "Questions", "description": "Where a piece sat, what a volume held, what is still missing."},
    {"name": "History", "description": "Every revision of a record, and what changed."},
    {"name": "In and out", "description": "Files handed in, records handed on, the spreadsheet to fill in."},
    {"name": "Paper", "description": "Labels, sheets for the bench and reports, as PDF."},
    {"name": "Words", "description": "Trade terms, the JSON-LD context and the ontology."},
    {"name": "Drawings", "description": "Volumes at their stages, two at once, leaves rejoined."},
    {"name": "Evidence", "description": "What pieces prove, and when; what to examine; what to weigh."},
    {"name": "SPARQL", "description": "Questions of your own, over everything you may see."},
    {
        "name": "The catalogue as a dataset",
        "description": "What it holds, dumps, what changed, maps for search engines.",
    },
    {"name": "Other catalogues", "description": "Catalogues that are followed, and their records."},
    {"name": "IIIF", "description": "Volumes and leaves laid out for IIIF readers, and pictures."},
    {"name": "Addresses of records", "description": "The IRIs of records, and the documents they lead to."},
]


def make_api() -> FastAPI:
    """Make the application; what it serves it finds in `request.state.access` (see `asking`)."""
    app = FastAPI(
        title="Guardbook",
        summary="Fragments taken out of bookbindings, and where each of them sat",
        description=ABOUT,
        version=guardbook.__version__,
        license_info={"name": "Apache-2.0", "identifier": "Apache-2.0"},
        openapi_url="/api/openapi.json",
        openapi_tags=TAGS,
        # the pages these would serve load their scripts from another host
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        # else every file that is answered would be said to be JSON too
        default_response_class=Response,
    )
    answer_errors(app)
    for part in (
        records,
        questions,
        drawings,
        evidence,
        bench,
        exchange,
        packets,
        papers,
        vocabulary,
        iiif,
        sparql,
        dataset,
        harvested,
    ):
        app.include_router(part.router)
    app.openapi = _described(app)  # type: ignore[method-assign]  # the way FastAPI foresees
    return app


def add_things(app: FastAPI) -> None:
    """Add the addresses of things; last, since they would hide those of pages under the same words."""
    for part in (leading, things):
        app.include_router(part.router)


def _described(app: FastAPI) -> Callable[[], dict[str, Any]]:
    def describe() -> dict[str, Any]:
        if app.openapi_schema is None:
            app.openapi_schema = _description(app)
        return app.openapi_schema

    return describe


def _description(app: FastAPI) -> dict[str, Any]:
    described = get_openapi(
        title=app.title,
        version=app.version,
        summary=app.summary,
        description=app.description,
        routes=app.routes,
        tags=app.openapi_tags,
        license_info=app.license_info,
    )
    # FastAPI foresees its own form of error, which is not given here
    for operations in described["paths"].values():
        for operation in operations.values():
            if "HTTPValidationError" in str(operation["responses"].get("422")):
                del operation["responses"]["422"]
    schemas = {**answer_schemas(DATACLASSES), **WRITTEN_BY_HAND, **record_schemas()}
    described.setdefault("components", {})["schemas"] = dict(sorted(schemas.items()))
    return described
