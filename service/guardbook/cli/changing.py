"""`guardbook set` and `guardbook delete`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.delete_record import delete_record
from guardbook.actions.open_catalogue import opened
from guardbook.actions.set_fields import set_fields
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import Data, Name, StartedFrom, Sure, WhatFor, Who, folder_or_default
from guardbook.cli.printing import say
from guardbook.cli.showing import short


def set_(
    name: Name,
    assignments: Annotated[
        list[str],
        typer.Argument(metavar="FIELD=VALUE", help="Such as height=45.5; note= empties the field."),
    ],
    *,
    started_from: StartedFrom,
    sure: Sure = False,
    who: Who,
    what_for: WhatFor = "fields set",
    data: Data = None,
) -> None:
    """Set some fields of a record and leave the rest as it is.

    A field of several values is given once for each. A field of a part is written with the part's name:
    position-1.x=12.5 (a part that is not there yet is made).
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        saved = set_fields(
            access, name, assignments, started_from=started_from, who=who, what_for=what_for, sure=sure
        )
    say(f"{short(saved.iri)} is saved as revision {saved.number}.")


def delete(
    name: Name,
    *,
    started_from: StartedFrom,
    why: Annotated[
        str, typer.Option("--why", metavar="TEXT", help="The reason, told to whoever asks later.")
    ],
    who: Who,
    data: Data = None,
) -> None:
    """Take a record out; its history stays.

    Its address then says when it was taken out, and why.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        iri = access.resolve(name)
        delete_record(access, iri, started_from=started_from, who=who, why=why)
    say(f"{short(iri)} is taken out.")
