"""`guardbook packet`, `guardbook archive` and `guardbook import`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from guardbook.actions.archive_catalogue import archive_catalogue
from guardbook.actions.import_packet import Imported, import_archive, import_packet
from guardbook.actions.make_packet import make_packet
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Access, Viewer
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
    reports: Annotated[
        bool | None,
        typer.Option(
            "--reports/--no-reports",
            help="Put in reports on paper of all volumes and pieces, or of none.",
            show_default="of those that are named",
        ),
    ] = None,
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
        chosen = None if everything else names
        done = make_packet(access, chosen, file, with_reports=reports, data=folder)
    if as_json:
        say_json(done)
    else:
        say(*(f"Left out: {line}." for line in done.left_out))
        say(f"{done.records} records and {done.pictures} pictures are in {output}.")


def archive(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Empty, not there yet, or this archive.")],
    *,
    public: AsPublic = False,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Keep all records with their history as an archive.

    A folder for long keeping (an OCFL 1.1 storage root), read without this program: every record with its
    versions, and the files of its pictures. Run it again to add what is new; `import` reads it back.
    """
    own = folder_or_default(data)
    with opened(viewer(public=public), own) as access:
        done = archive_catalogue(access, folder, data=own)
    if as_json:
        say_json(done)
        return
    say(*(f"Left out: {line}." for line in done.left_out))
    say(*(f"Written anew, since it may not say all that it said before: {iri}" for iri in done.written_anew))
    say(*(f"Taken out, since it may not be seen any more: {iri}" for iri in done.taken_out))
    say(f"{done.objects} objects are in {folder}: {done.new} are new, {done.versions} versions were written.")


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A packet, or the folder of an archive.")],
    *,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only check it.")] = False,
    who: Who,
    what_for: WhatFor = "",
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Read a packet or an archive back, bit for bit.

    A damaged one is refused with everything that is wrong with it, and nothing of it is kept. Of an archive
    the records are read as they are now.
    """
    own = folder_or_default(data)
    with opened(Viewer.WORKSHOP, own) as access:
        words: dict[str, Any] = {"who": who, "dry_run": dry_run, "data": own}
        if file.is_dir():
            done = import_archive(access, file, what_for=what_for or "an archive imported", **words)
        else:
            done = _packet_imported(access, file, what_for or "a packet imported", words)
    if as_json:
        say_json(done)
    else:
        verb = "would be" if dry_run else "are"
        say(f"{len(done.new)} {verb} new, {len(done.unchanged)} as they were; {done.pictures} pictures.")


def _packet_imported(access: Access, file: Path, what_for: str, words: dict[str, Any]) -> Imported:
    try:
        content = file.open("rb")
    except OSError as error:
        raise UnreadableFile(message=f"{file} cannot be read: {error.strerror}.") from error
    with content:
        return import_packet(access, content, file.name, what_for=what_for, **words)
