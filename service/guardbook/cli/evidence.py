"""`guardbook date`, `evidence`, `examinations` and `decide`: what pieces prove, when, and what to weigh."""

from __future__ import annotations

from typing import Annotated

import typer

from guardbook.actions.date_record import date_record
from guardbook.actions.decide import decide as decision_sheet
from guardbook.actions.examinations_of_event import examinations_of_event
from guardbook.actions.open_catalogue import opened
from guardbook.actions.weigh_evidence import weigh_evidence
from guardbook.cli.options import AsJson, AsPublic, Data, Name, folder_or_default, viewer
from guardbook.cli.printing import say, say_answer, say_json
from guardbook.evidence.owner_text import owner_text


def date(name: Name, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None) -> None:
    """Tell how early and how late each event can be, and why.

    Takes a volume or a piece. Ends with 1 where statements cannot all hold.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = date_record(access, name)
    say_answer(told, as_json=as_json)
    if told.contradictions:
        raise typer.Exit(1)


def evidence(name: Name, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None) -> None:
    """Tell what traces may mean, how surely, and what decides.

    Takes a volume or a piece. Each reading keeps its other explanations, and says what would decide it.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = weigh_evidence(access, name)
    say_answer(told, as_json=as_json)


def examinations(name: Name, *, as_json: AsJson = False, public: AsPublic = False, data: Data = None) -> None:
    """Tell what can be examined only before or during a removal.

    Takes a separation, a placing, or a piece (its planned or last removal).
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = examinations_of_event(access, name)
    say_answer(told, as_json=as_json)


def decide(
    name: Name,
    *,
    weight: Annotated[
        list[str] | None,
        typer.Option("--weight", metavar="NAME=N", help="Try a weight out: criterion-1=2.5. Repeatable."),
    ] = None,
    for_owner: Annotated[bool, typer.Option("--for-owner", help="As a text for the owner.")] = False,
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Lay the options of a decision side by side.

    Takes a decision, or a piece or volume. Tells which weight would change the order; never what to do.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        told = decision_sheet(access, name, dict(one.partition("=")[::2] for one in weight or ()))
    if as_json:
        say_json(told)
    else:
        say(owner_text(told) if for_owner else told.words())
