"""`guardbook before-lifting` and `guardbook lift`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.before_lifting import before_lifting as gate_of
from guardbook.actions.before_lifting import go_ahead
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli.options import (
    AsJson,
    AsPublic,
    Data,
    Name,
    StartedFrom,
    Sure,
    Who,
    folder_or_default,
    viewer,
)
from guardbook.cli.printing import say, say_answer
from guardbook.cli.showing import short


def before_lifting(
    name: Name, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None
) -> None:
    """Tell what is not recorded, decided or consented to yet.

    Takes a planned separation, or its piece. What cannot be recorded later comes first. Ends with 1 where
    something is open.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        gate = gate_of(access, name)
    say_answer(gate, as_json=as_json)
    if gate.left_open:
        raise typer.Exit(1)


def lift(
    name: Name,
    *,
    when: Annotated[str, typer.Option("--when", metavar="DAY", help="The day, as people write it.")],
    because: Annotated[
        str, typer.Option("--because", metavar="TEXT", help="Why it goes ahead though things are open.")
    ] = "",
    started_from: StartedFrom,
    sure: Sure = False,
    who: Who,
    data: Data = None,
) -> None:
    """Say that a planned separation was made.

    What was open then is kept with it, together with the reason, which is asked for where anything was.
    """
    with opened(Viewer.WORKSHOP, folder_or_default(data)) as access:
        saved = go_ahead(
            access, name, started_from=started_from, when=when, because=because, who=who, sure=sure
        )
    say(f"{short(saved.iri)} is saved as revision {saved.number}.")
