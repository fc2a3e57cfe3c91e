"""`guardbook verify` and `guardbook rebuild`."""

from __future__ import annotations

import typer

from guardbook.actions.open_catalogue import opened
from guardbook.actions.rebuild_graph import rebuild_graph
from guardbook.actions.verify_catalogue import verify_catalogue
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import AsJson, Data, folder_or_default
from guardbook.cli.printing import say, say_json


def verify(*, as_json: AsJson = False, data: Data = None) -> None:
    """Check that nothing in the catalogue was altered or lost.

    The ledger is held against its chain of hashes, the graph and the search against the ledger. Ends with 1
    where something does not agree.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        faults = verify_catalogue(access)
    if as_json:
        say_json({"faults": faults})
    else:
        say(*(map(str, faults) if faults else ("The ledger, the graph and the search agree.",)))
    if faults:
        raise typer.Exit(1)


def rebuild(*, data: Data = None) -> None:
    """Make the graph and the search anew from the ledger."""
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        count = rebuild_graph(access)
    say(f"The graph and the search are made anew: {count} records.")
