"""The `guardbook` command: its table of commands, and how it ends."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperCommand

import guardbook
from guardbook.cli.printing import say, say_error
from guardbook.errors import GuardbookError, WrongUse

if TYPE_CHECKING:
    from guardbook.cli.serving import Application

REGISTER, ASK, HAND_ON, LOOK_AFTER = "Register", "Ask", "Hand on", "Look after"

# the name of each, the heading it stands under, and where its function is in this package
COMMANDS: tuple[tuple[str, str, str], ...] = (
    ("add", REGISTER, "adding.add"),
    ("set", REGISTER, "changing.set_"),
    ("lift", REGISTER, "lifting.lift"),
    ("delete", REGISTER, "changing.delete"),
    ("template", REGISTER, "adding.template"),
    ("identifiers", REGISTER, "starting.identifiers"),
    ("show", ASK, "showing.show"),
    ("find", ASK, "finding.find"),
    ("where", ASK, "whereabouts.where"),
    ("pieces", ASK, "whereabouts.pieces"),
    ("stages", ASK, "drawing.stages"),
    ("scene", ASK, "drawing.scene"),
    ("overlay", ASK, "drawing.overlay"),
    ("rejoin", ASK, "drawing.rejoin"),
    ("date", ASK, "evidence.date"),
    ("evidence", ASK, "evidence.evidence"),
    ("examinations", ASK, "evidence.examinations"),
    ("decide", ASK, "evidence.decide"),
    ("bench", ASK, "bench.bench"),
    ("check", ASK, "checking.check"),
    ("before-lifting", ASK, "lifting.before_lifting"),
    ("history", ASK, "showing.history"),
    ("sparql", ASK, "asking.sparql"),
    ("export", HAND_ON, "handing_on.export"),
    ("label", HAND_ON, "paper.label"),
    ("bench-sheet", HAND_ON, "paper.bench_sheet"),
    ("report", HAND_ON, "paper.report"),
    ("packet", HAND_ON, "packets.packet"),
    ("archive", HAND_ON, "packets.archive"),
    ("import", HAND_ON, "packets.import_"),
    ("serve", HAND_ON, "serving.serve"),
    ("harvest", HAND_ON, "harvesting.harvest"),
    ("harvested", HAND_ON, "harvesting.harvested"),
    ("demo", LOOK_AFTER, "starting.demo"),
    ("verify", LOOK_AFTER, "looking_after.verify"),
    ("rebuild", LOOK_AFTER, "looking_after.rebuild"),
)

# what others call it, and what does it here
INSTEAD = {
    "backup": "archive FOLDER, or packet --all -o FILE",
    "cite": "export ID --as citation",
    "citation": "export ID --as citation",
    "edit": "set ID FIELD=VALUE",
    "list": "find",
    "pdf": "report ID -o FILE",
    "print": "report ID -o FILE, label or bench-sheet",
    "remove": "delete ID",
    "search": "find WORDS",
}

ABOUT = """A catalogue of fragments taken out of bookbindings, of the volumes that held
them, and of where each of them sat."""
EXIT_CODES = "Ends with 0 if all is well, 1 if something is missing or contradicts, 2 if it was used wrongly."


class PlainCommand(TyperCommand):
    """Says in its help what an argument is for, rather than of which Python type it is."""

    def format_options(self, ctx: typer.Context, formatter: Any) -> None:  # type: ignore[override]  # Typer's own context
        """Write the arguments, then the options."""
        records = [(param.param_type_name, param.get_help_record(ctx)) for param in self.get_params(ctx)]
        for kind in ("argument", "option"):
            rows = [(row[0].partition(" <")[0], row[1]) for name, row in records if name == kind and row]
            if rows:
                with formatter.section(f"{kind.capitalize()}s"):
                    formatter.write_dl(rows)


def _version(asked: bool) -> None:  # noqa: FBT001  # the one argument that Typer gives a callback
    if asked:
        say(f"guardbook {guardbook.__version__}")
        raise typer.Exit


def _start(
    *,
    _version: Annotated[
        bool, typer.Option("--version", help="Print the version and end.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Take the options of the command as a whole."""


def make_command(only: str | None = None) -> typer.Typer:
    """Put the commands together, or make it of only one, which spares loading what the others need."""
    command = typer.Typer(
        name="guardbook",
        help=ABOUT,
        epilog=EXIT_CODES,
        add_completion=False,
        rich_markup_mode=None,
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    command.callback()(_start)
    for name, panel, place in COMMANDS:
        if only in {None, name}:
            command.command(name, cls=PlainCommand, rich_help_panel=panel)(_function(place))
    return command


def _function(place: str) -> Callable[..., Any]:
    module, _dot, name = place.partition(".")
    found: Callable[..., Any] = getattr(import_module(f"guardbook.cli.{module}"), name)
    return found


def main(words: Sequence[str] | None = None, application: Application | None = None) -> None:
    """Run the command and end the process with its exit code.

    `words` are those of the command line where None; `application` makes what `serve` serves.
    """
    asked = next(iter(sys.argv[1:] if words is None else words), None)
    only = asked if asked in {name for name, _panel, _place in COMMANDS} else None
    try:
        if asked in INSTEAD:
            raise WrongUse(message=f"There is no command {asked!r}; try: guardbook {INSTEAD[asked]}.")
        make_command(only)(args=words, prog_name="guardbook", obj=application)
    except GuardbookError as error:
        say_error(error)
        sys.exit(error.exit_code)
