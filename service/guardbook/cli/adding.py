"""`guardbook add` and `guardbook template`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

from guardbook.actions.add_files import Added, add_files
from guardbook.actions.make_template import make_template
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.handing_on import writing
from guardbook.cli.options import AsJson, Data, Language, Sure, WhatFor, Who, folder_or_default
from guardbook.cli.printing import say, say_json, say_table
from guardbook.errors import Doubtful, InvalidRecord, UnreadableFile

MOST_SHOWN = 30


def add(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE", help="JSON, Turtle and its kin, RDF/XML, CSV or XLSX.")
    ],
    *,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only say what would be saved.")] = False,
    sure: Sure = False,
    started_from: Annotated[
        int | None,
        typer.Option(
            "--revision", metavar="N", min=1, help="The revision one JSON or RDF record started from."
        ),
    ] = None,
    sheet: Annotated[
        str | None,
        typer.Option("--sheet", metavar="KIND", help="What the rows are, if the file does not say."),
    ] = None,
    who: Who,
    what_for: WhatFor = "files added",
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Add records from files, or change records by them.

    All of it is saved or, where anything is not right, nothing. Every fault is told at once, with its place
    in the file.
    """
    contents = [(path.name, _read(path)) for path in files]
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access, _progress() as progress:
        added = add_files(
            access,
            contents,
            who=who,
            what_for=what_for,
            sheet_kind=sheet,
            revision=started_from,
            sure=sure,
            dry_run=dry_run,
            progress=progress,
        )
    if as_json:
        say_json(added)
    else:
        _print(added, dry_run=dry_run)
    if dry_run and added.faults:
        only_doubts = all(fault.doubt for fault in added.faults)
        raise typer.Exit(Doubtful.exit_code if only_doubts else InvalidRecord.exit_code)


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise UnreadableFile(message=f"{path} cannot be read: {error.strerror}.") from error


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None]]:
    """Show a bar on the error output of a terminal, once there is enough to count."""
    columns = (TextColumn("Reading"), BarColumn(), MofNCompleteColumn())
    console = Console(stderr=True)
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task("", total=None, visible=False)
        yield lambda done, total: bar.update(task, completed=done, total=total, visible=total > 100)


def _print(added: Added, *, dry_run: bool) -> None:
    say(*added.notes, *map(str, added.faults))
    records = {record.id: record for record in added.records}
    touched = [*(("new", iri) for iri in added.new), *(("changed", iri) for iri in added.changed)]
    if touched:
        rows = ((what, records[iri]) for what, iri in touched[:MOST_SHOWN])
        say_table(
            ("", "Identifier", "Number", "Title"),
            ((what, one.short, one.workshop_number or "", one.display_title) for what, one in rows),
        )
    done = "would be" if dry_run else "are"
    counts = f"{len(added.new)} {done} new, {len(added.changed)} changed, {len(added.unchanged)} as they were"
    say(f"{counts}. Nothing is saved yet." if dry_run else f"{counts}.")


def template(
    *,
    format_name: Annotated[str, typer.Option("--as", metavar="FORMAT", help="csv or xlsx.")] = "csv",
    kind: Annotated[str, typer.Option("--sheet", metavar="KIND", help="What the rows are.")] = "pieces",
    language: Language = "en",
    output: Annotated[
        Path | None,
        typer.Option("--output", "-o", metavar="FILE", help="The file to write; else text is printed."),
    ] = None,
) -> None:
    """Give the empty spreadsheet to fill in and add."""
    made = make_template(format_name, language=language, kind=kind)
    with writing(output, f".{format_name}") as file:
        file.write(made)
