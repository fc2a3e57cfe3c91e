"""`guardbook where` and `guardbook pieces`."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.open_catalogue import opened
from guardbook.actions.pieces_of_host import pieces_of_host
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.cli.options import AsJson, AsPublic, Data, Name, folder_or_default, viewer
from guardbook.cli.printing import say_answer


def where(name: Name, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None) -> None:
    """Tell where a piece sat at each stage, and where it is now.

    Ends with 1 where its records contradict each other.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = where_it_sat(access, access.resolve(name))
    say_answer(told, as_json=as_json)
    if told.contradictions:
        raise typer.Exit(1)


def pieces(
    host: Annotated[
        str, typer.Argument(metavar="HOST", help="An identifier, or the workshop number, of a volume.")
    ],
    *,
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Tell which pieces a volume ever held, and where they are.

    Ends with 1 where its records contradict each other.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = pieces_of_host(access, access.resolve(host))
    say_answer(told, as_json=as_json)
    if told.contradictions:
        raise typer.Exit(1)
