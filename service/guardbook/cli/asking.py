"""`guardbook sparql`."""

from __future__ import annotations

import shutil
import sys
from typing import Annotated

import typer

from guardbook.actions.ask_sparql import FORMS, ask_in_form, ask_sparql
from guardbook.actions.open_catalogue import opened
from guardbook.cli.options import AsPublic, Data, folder_or_default, viewer


def sparql(
    query: Annotated[
        str, typer.Argument(metavar="QUERY", help="The query; - reads it from the standard input.")
    ],
    *,
    form: Annotated[
        str | None,
        typer.Option(
            "--as",
            metavar="FORM",
            show_default="csv, or turtle for a graph",
            help=f"One of {', '.join(FORMS)}.",
        ),
    ] = None,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Answer a question in SPARQL 1.1.

    Updates and SERVICE are refused; a query is stopped at its limits (see `docs/running-it.md`).
    """
    text = sys.stdin.read() if query == "-" else query
    with opened(viewer(public=public), folder_or_default(data)) as access:
        answer = ask_in_form(access, text, form) if form else ask_sparql(access, text, solutions_as="csv")
        with answer.file as file:
            sys.stdout.flush()
            shutil.copyfileobj(file, sys.stdout.buffer)
            sys.stdout.buffer.flush()
    if answer.cut:
        typer.echo(f"Only the first {answer.rows} rows are given; there are more.", err=True)
