"""`guardbook demo` and `guardbook identifiers`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.load_demo import load_demo
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import AsJson, Data, folder_or_default
from guardbook.cli.printing import say, say_json
from guardbook.records.identifiers import new_identifier


def demo(*, data: Data = None) -> None:
    """Load an invented workshop to look at.

    What is in the catalogue already stays as it is; what was taken out stays out.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        count = load_demo(access, if_empty=False)
    say(f"{count} records of the demo are loaded." if count else "The demo is loaded already.")


def identifiers(
    count: Annotated[int, typer.Argument(min=1, max=10_000, metavar="[COUNT]", help="How many.")] = 10,
    *,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Draw fresh identifiers, for labels to print beforehand."""
    drawn: set[str] = set()
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        known = {iri.rpartition("/")[2] for iri in access.iris()}
        while len(drawn) < count:
            drawn |= {new_identifier()} - known
    if as_json:
        say_json(sorted(drawn))
    else:
        say(*sorted(drawn))
