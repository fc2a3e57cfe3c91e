"""Write the page of all commands from their help: `python -m guardbook.cli.reference > docs/commands.md`."""

from __future__ import annotations

import sys

import typer

from guardbook.cli.application import COMMANDS, EXIT_CODES, make_command

OPENING = f"""\
# Commands

Written from the commands themselves; `python3 service COMMAND --help` says the same. Errors go to the error
output: one line, and one for each fault. With `--json` an answer is JSON, as the API gives it. Nothing is
coloured where it does not go to a terminal.

{EXIT_CODES}

Without `python3 service` before it, the command is called `guardbook` (`.venv/bin/guardbook`, or wherever the
package is installed).
"""
COLUMNS = 80


def reference() -> str:
    """Give the page: every command with its help, in the groups that the table of commands has."""
    group = typer.main.get_command(make_command())
    context = group.make_context("guardbook", [], resilient_parsing=True)
    pages = [OPENING]
    heading = ""
    for name, panel, _ in COMMANDS:
        if panel != heading:
            heading = panel
            pages.append(f"## {heading}\n")
        command = group.get_command(context, name)  # type: ignore[attr-defined]  # a group, as it has commands
        inner = command.make_context(name, [], parent=context, resilient_parsing=True)
        inner.terminal_width = COLUMNS
        inner.max_content_width = COLUMNS
        pages.append(f"### {name}\n\n```text\n{command.get_help(inner).strip()}\n```\n")
    return "\n".join(pages)


if __name__ == "__main__":
    sys.stdout.write(reference())
