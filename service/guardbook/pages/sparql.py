"""The page to ask questions in SPARQL from, with examples, and the answers as a table."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from guardbook import settings
from guardbook.actions.ask_sparql import ask_sparql
from guardbook.catalogue.sparql.question import GRAPH_FORMS, SOLUTION_FORMS, Answer
from guardbook.errors import GuardbookError
from guardbook.pages.rendering import Asked, page
from guardbook.wording import _, said_later

router = APIRouter(include_in_schema=False)

SHOWN_ROWS = 500
SHOWN_CHARACTERS = 200_000
_FOLDER = Path(__file__).parent / "examples"
_EXAMPLES = (
    ("materials", said_later("How many pieces are of which material")),
    ("pastedowns", said_later("Pieces that were pastedowns, and where")),
    ("removed", said_later("What was taken out of a volume, the newest first")),
    ("holes", said_later("Pieces with the most sewing holes, and how far apart these lie")),
    ("one-record", said_later("All that is said of one volume, as a graph")),
)


@dataclass(frozen=True)
class Cell:
    """One value of the table: its words, its language, and where it leads, if it does."""

    text: str
    language: str = ""
    address: str = ""
    is_ours: bool = False


@dataclass(frozen=True)
class Shown:
    """An answer to show: a table, yes or no, or a graph in Turtle; `rows` are all there are, if not `cut`."""

    names: tuple[str, ...] = ()
    table: tuple[tuple[Cell | None, ...], ...] = ()
    yes: bool | None = None
    turtle: str = ""
    rows: int = 0
    cut: bool = False


@router.get("/sparql.html")
def sparql(request: Request, access: Asked) -> HTMLResponse:
    """Show a box for a query with examples, and the answer to what was asked."""
    asked = request.query_params
    text = asked.get("query", "").strip()
    shown: Shown | None = None
    wrong: GuardbookError | None = None
    try:
        if text:
            graphs = (asked.getlist("default-graph-uri"), asked.getlist("named-graph-uri"))
            shown = _shown(ask_sparql(access, text, default_graphs=graphs[0], named_graphs=graphs[1]))
    except GuardbookError as error:
        wrong = error
    forms = GRAPH_FORMS if shown and shown.turtle else SOLUTION_FORMS
    return page(
        request,
        "sparql.html",
        status=wrong.status if wrong else 200,
        text=text or _examples()[0][1],
        shown=shown,
        wrong=wrong,
        examples=[
            (_(title), f"/sparql.html?{_query(request, query=example)}") for title, example in _examples()
        ],
        downloads=[(form, f"/sparql?{_query(request, query=text, format=form)}") for form in forms],
        as_public=asked.get("as") == "public",
        limits=settings.current().sparql,
    )


@lru_cache(maxsize=1)
def _examples() -> tuple[tuple[str, str], ...]:
    return tuple(
        (title, (_FOLDER / f"{name}.rq").read_text(encoding="utf-8").strip()) for name, title in _EXAMPLES
    )


def _query(request: Request, **fields: str) -> str:
    public = {"as": "public"} if request.query_params.get("as") == "public" else {}
    return urlencode({**fields, **public})


def _shown(answer: Answer) -> Shown:
    with answer.file as file:
        written = file.read()
    if answer.form in GRAPH_FORMS:
        turtle = written.decode()
        cut = answer.cut or len(turtle) > SHOWN_CHARACTERS
        return Shown(turtle=turtle[:SHOWN_CHARACTERS], rows=answer.rows, cut=cut)
    said: dict[str, Any] = json.loads(written)
    if "boolean" in said:
        return Shown(yes=said["boolean"])
    names = tuple(said["head"]["vars"])
    table = tuple(
        tuple(_cell(row[name]) if name in row else None for name in names)
        for row in said["results"]["bindings"][:SHOWN_ROWS]
    )
    return Shown(names=names, table=table, rows=answer.rows, cut=answer.cut)


def _cell(term: dict[str, Any]) -> Cell:
    value = term["value"]
    match term["type"]:
        case "uri":
            base = settings.current().base
            is_ours = value.startswith(base)
            leads = is_ours or value.startswith(("https://", "http://"))
            return Cell(
                value.removeprefix(base), address=value.removeprefix(base) if leads else "", is_ours=is_ours
            )
        case "literal":
            return Cell(value, language=term.get("xml:lang", ""))
        case "bnode":
            return Cell(f"_:{value}")
        case _:
            return Cell(" ".join(_cell(value[part]).text for part in ("subject", "predicate", "object")))
