"""The pages put together, for the application that serves them."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from guardbook.pages import (
    bench,
    dataset,
    drawings,
    evidence,
    finding,
    forms,
    harvested,
    languages,
    lifting,
    papers,
    placing,
    reading,
    registering,
    sparql,
    words,
)


def add_pages(app: FastAPI) -> None:
    """Add the pages to an application that puts the catalogue into `request.state.access`."""
    first = (finding, languages, words, drawings, evidence, lifting, papers, placing, registering, forms)
    for part in (*first, bench, dataset, sparql, harvested, reading):
        app.include_router(part.router)
    app.mount("/static", StaticFiles(directory=Path(__file__).parent / "static"), name="static")
