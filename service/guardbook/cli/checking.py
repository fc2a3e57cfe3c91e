"""`guardbook check`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from guardbook.actions.check_record import check_all, check_record
from guardbook.actions.open_catalogue import opened
from guardbook.cli.options import AsJson, AsPublic, Data, Language, folder_or_default, viewer
from guardbook.cli.printing import say, say_json, say_table
from guardbook.cli.showing import short
from guardbook.completeness.finding import VIOLATION
from guardbook.completeness.report import Report
from guardbook.completeness.stages import STAGES


def check(
    name: Annotated[
        str | None,
        typer.Argument(metavar="[ID]", help="An identifier or workshop number; none: the whole catalogue."),
    ] = None,
    *,
    stage: Annotated[
        str | None, typer.Option("--for", metavar="STAGE", help=f"One of {', '.join(STAGES)}.")
    ] = None,
    as_shacl: Annotated[bool, typer.Option("--shacl", help="Print a SHACL validation report.")] = False,
    language: Language = "en",
    as_json: AsJson = False,
    public: AsPublic = False,
    data: Data = None,
) -> None:
    """Tell what is missing, why it matters, and how to get it.

    What cannot be got later comes first. Each stage takes in those before it. Without --for, it is the stage
    that the record has come to. Ends with 1 where something that is required is missing.
    """
    with opened(viewer(public=public), folder_or_default(data)) as access:
        reports = (
            [check_record(access, access.resolve(name), stage)] if name else list(check_all(access, stage))
        )
    if as_json:
        say_json(reports[0] if name else reports)
    elif as_shacl:
        say(*(report.as_shacl() for report in reports))
    elif name:
        say(reports[0].words(language))
    else:
        _print_all(reports)
    if not all(report.complete for report in reports):
        raise typer.Exit(1)


def _print_all(reports: Sequence[Report]) -> None:
    """Print a row for each record that lacks something; `Only now` counts what cannot be got later."""
    lacking = [report for report in reports if not report.complete]
    if lacking:
        say_table(("Identifier", "Title", "Stage", "Missing", "Only now"), map(_row, lacking))
    say(f"{len(reports) - len(lacking)} of {len(reports)} are complete.")


def _row(report: Report) -> tuple[str, ...]:
    iri = report.focus[0]
    required = [item for item in report.missing if item.severity == VIOLATION]
    lost = sum(not item.later for item in required)
    return short(iri), report.titles.get(iri, ""), report.stage, str(len(required)), str(lost or "")
