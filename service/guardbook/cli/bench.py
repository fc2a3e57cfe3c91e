"""`guardbook bench`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.bench import LISTS
from guardbook.actions.bench import bench as overview_of
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import AsJson, Data, folder_or_default
from guardbook.cli.printing import say_answer


def bench(
    *,
    only: Annotated[
        str | None, typer.Option("--list", metavar="NAME", help=f"One list whole: {', '.join(LISTS)}.")
    ] = None,
    as_json: AsJson = False,
    data: Data = None,
) -> None:
    """Tell what is open on the bench, and what will be lost.

    Then what contradicts itself, pieces whose place is not known, and pieces away from their volume.
    Each list is short, the most urgent first.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        told = overview_of(access, only, patience_seconds=None)
    say_answer(told, as_json=as_json)
