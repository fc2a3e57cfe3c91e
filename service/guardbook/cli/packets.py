"""`guardbook packet` and `guardbook import`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guardbook.actions.import_packet import import_packet
from guardbook.actions.make_packet import make_packet
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.handing_on import writing
from guardbook.cli.options import AsJson, AsPublic, Data, WhatFor, Who, folder_or_default, viewer
from guardbook.cli.printing import say, say_json
from guardbook.errors import UnreadableFile, WrongUse


def packet(
    names: Annotated[
        list[str] | None, typer.Argument(metavar="ID", help="Identifiers or workshop numbers.")
    ] = None,
    *,
    everything: Annotated[bool, typer.Option("--all", help="Pack all records.")] = False,
    output: Annotated[Path, typer.Option("--output", "-o", metavar="FILE", help="The ZIP file to write.")],
    public: AsPublic = False,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Pack records and pictures into one file.

    For deposit or for handing over: a bag (BagIt) with all that explains them, that is read without this
    program, and by `import` bit for bit. With a piece or a volume goes all that it hangs on.
    """
    if everything == bool(names):
        raise WrongUse(message="Give the identifiers of the records to pack, or --all.")
    folder = folder_or_default(data)
    with opened(viewer(public=public), folder) as access, writing(output) as file:
        done = make_packet(access, None if everything else names, file, data=folder)
    if as_json:
        say_json(done)
    else:
        say(*(f"Left out: {line}." for line in done.left_out))
        say(f"{done.records} records and {done.pictures} pictures are in {output}.")


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A packet.")],
    *,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only check it.")] = False,
    who: Who,
    what_for: WhatFor = "a packet imported",
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Read a packet back, bit for bit.

    A damaged packet is refused with everything that is wrong with it, and nothing of it is kept.
    """
    folder = folder_or_default(data)
    try:
        content = file.open("rb")
    except OSError as error:
        raise UnreadableFile(message=f"{file} cannot be read: {error.strerror}.") from error
    with content, opened(Viewer.WORKSHOP, folder) as access:
        done = import_packet(
            access, content, file.name, who=who, what_for=what_for, dry_run=dry_run, data=folder
        )
    if as_json:
        say_json(done)
    else:
        verb = "would be" if dry_run else "are"
        say(f"{len(done.new)} {verb} new, {len(done.unchanged)} as they were; {done.pictures} pictures.")
