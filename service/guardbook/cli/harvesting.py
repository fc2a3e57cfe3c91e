"""`guardbook harvest` and `guardbook harvested`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.harvest import harvest as follow
from guardbook.actions.harvested import drop_origin, list_origins, not_taken
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import AsJson, Data, folder_or_default
from guardbook.cli.printing import say, say_answer, say_json, say_table
from guardbook.intake.remote import Remote


def harvest(
    address: Annotated[
        str,
        typer.Argument(
            metavar="URL",
            help="A feed of changes, or the address of another catalogue, ending in a slash.",
        ),
    ],
    *,
    allow_private: Annotated[
        bool, typer.Option("--allow-private", help="It may be on this machine or its local network.")
    ] = False,
    show_public: Annotated[
        bool | None,
        typer.Option(
            "--show-public/--hide-public",
            show_default="as before, at first hidden",
            help="Whether the public finds its records here too.",
        ),
    ] = None,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Follow another catalogue, and keep its records apart.

    The first time everything, then what came, changed and went since. Its records are found and read here;
    they are never changed here, and never handed on as ours.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        done = follow(access, address, show_public=show_public, remote=Remote(allow_private=allow_private))
    say_answer(done, as_json=as_json)


def harvested(
    *,
    drop: Annotated[
        str | None,
        typer.Option(
            "--drop", metavar="ORIGIN", help="Forget this one, by its number or feed, and its records."
        ),
    ] = None,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """List the catalogues that are followed.

    Tells also what could not be taken from them; the next `guardbook harvest` tries it again.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        if drop is not None:
            gone = drop_origin(access, drop)
            say(f"{gone.title} ({gone.feed}) is no longer followed; its {gone.records} records are dropped.")
            return
        origins = list_origins(access)
        refused = [one for origin in origins for one in not_taken(access, str(origin.number))]
    if as_json:
        say_json({"origins": origins, "notTaken": refused})
        return
    if not origins:
        say("No other catalogue is followed. `guardbook harvest URL` begins to.")
        return
    say_table(
        ("Number", "Catalogue", "Feed", "Records", "Last read", "Licence"),
        (
            (
                str(origin.number),
                origin.title,
                origin.feed,
                str(origin.records),
                origin.last_read.strftime("%Y-%m-%d"),
                origin.licence or "none stated",
            )
            for origin in origins
        ),
    )
    say(
        *(
            f"{origin.title}: the last reading ended early. {origin.problem}"
            for origin in origins
            if origin.problem
        )
    )
    say(*(f"Not taken: {one.problem}" for one in refused))
