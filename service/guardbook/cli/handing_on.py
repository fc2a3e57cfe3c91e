"""`guardbook export`."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, BinaryIO

import typer

from guardbook.actions.export_records import export_records
from guardbook.actions.open_catalogue import opened
from guardbook.cli.options import AsPublic, Data, Language, folder_or_default, viewer
from guardbook.errors import StorageFailed, WrongUse
from guardbook.exports.formats import FORMATS, format_named

NO_TEXT = (".pdf", ".xlsx", ".png")


def export(
    names: Annotated[
        list[str] | None, typer.Argument(metavar="ID", help="Identifiers or workshop numbers.")
    ] = None,
    *,
    everything: Annotated[bool, typer.Option("--all", help="Export all records.")] = False,
    format_name: Annotated[
        str | None,
        typer.Option("--as", metavar="FORMAT", help=f"To be said: one of {', '.join(FORMATS)}."),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(
            "--output", "-o", metavar="FILE", help="The file to write; else text is printed, or piped."
        ),
    ] = None,
    with_events: Annotated[
        bool, typer.Option("--with-events", help="Take along the events that name each record.")
    ] = False,
    language: Language = "en",
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Hand records on in a format that other programs read."""
    if everything == bool(names):
        raise WrongUse(message="Give the identifiers of the records to export, or --all.")
    if format_name is None:
        raise WrongUse(message=f"Say with --as in which format. The formats are: {', '.join(FORMATS)}.")
    ending = format_named(format_name).ending
    with opened(viewer(public=public), folder_or_default(data)) as access, writing(output, ending) as file:
        chosen = None if everything else names
        export_records(access, chosen, format_name, file, language=language, with_events=with_events)


def _umask() -> int:
    """Give which rights new files are not to have; it can only be read by setting it."""
    umask = os.umask(0o077)
    os.umask(umask)
    return umask


@contextmanager
def writing(path: Path | None, ending: str = "") -> Iterator[BinaryIO]:
    """Write to the standard output or to a file, which is only put in its place when it is whole.

    Raises WrongUse where what has this usual ending would go to a terminal, and is no text.
    """
    if path is None and ending.endswith(NO_TEXT) and sys.stdout.isatty():
        name = ending.rpartition(".")[2]
        raise WrongUse(message=f"{name.upper()} is no text for a terminal. Name a file: -o NAME.{name}.")
    if path is None:
        yield sys.stdout.buffer
        return
    try:
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as half:
            try:
                yield half  # type: ignore[misc]  # a named temporary file is a binary file
            except BaseException:
                Path(half.name).unlink()
                raise
        Path(half.name).chmod(0o666 & ~_umask())
        Path(half.name).replace(path)
    except OSError as error:
        raise StorageFailed(message=f"{path} could not be written: {error.strerror}.") from error
