"""`guardbook find`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.find_records import find_records
from guardbook.actions.harvested import find_harvested
from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.standing import STANDING
from guardbook.cli.options import AsJson, AsPublic, Data, folder_or_default, viewer
from guardbook.cli.printing import say, say_json, say_table
from guardbook.cli.showing import short
from guardbook.errors import WrongUse
from guardbook.records.kinds import KINDS


def find(
    words: Annotated[
        list[str] | None, typer.Argument(metavar="WORD", help="Words, or the start of them; none: all.")
    ] = None,
    *,
    kind: Annotated[str | None, typer.Option(metavar="KIND", help=f"One of {', '.join(KINDS)}.")] = None,
    facet: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME=VALUE",
            help="Only those with it, such as function=pastedown, whereNow=kept, hasImage=no, "
            "completeFor=on-sight or date=1500/1550; repeatable.",
        ),
    ] = None,
    limit: Annotated[int, typer.Option(metavar="N", help="How many to show.")] = 20,
    offset: Annotated[int, typer.Option(metavar="N", help="How many to pass over.")] = 0,
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Find records by words, shelfmarks, numbers or facets.

    Every word must be met, by the start of a word; accents do not matter.
    """
    facets = dict(_facet(text) for text in facet or ())
    with opened(viewer(public=public), folder_or_default(data)) as access:
        found = find_records(
            access,
            " ".join(words or ()),
            kind=kind,
            facets=facets,
            limit=limit,
            offset=offset,
            # no server is there to work out the rest meanwhile
            patience_seconds=None if as_json or set(STANDING) & set(facets) else 0,
        )
        elsewhere = find_harvested(access, " ".join(words or ())) if not offset else ()
    if as_json:
        say_json(found)
        return
    if found.hits:
        say_table(
            ("Identifier", "Number", "Title"),
            ((short(hit.iri), hit.workshop_number or "", hit.title) for hit in found.hits),
        )
    say(_counted(len(found.hits), found.total, offset))
    if elsewhere:
        say("In other catalogues:")
        say(*(f"  {hit.title} ({hit.origin}): {hit.iri}" for hit in elsewhere))


def _facet(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign or not name or not value:
        raise WrongUse(message=f"Expected --facet NAME=VALUE, such as function=pastedown, found {text!r}.")
    return name, value


def _counted(shown: int, total: int, offset: int) -> str:
    if not total:
        return "Nothing found. Fewer words, or only the start of a word, find more."
    if shown == total:
        return f"{total} found."
    return f"{offset + 1} to {offset + shown} of {total}; --offset {offset + shown} shows the next."
