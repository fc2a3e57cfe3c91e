"""How answers look on a terminal: tables that fit, no colour when piped, JSON where it was asked for."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from typing import Any, Protocol

from rich import box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from guardbook.actions.answers import as_json
from guardbook.errors import GuardbookError


class Told(Protocol):
    """An answer that can be told in words."""

    def words(self) -> str:
        """Tell it."""
        ...


def say(*lines: str) -> None:
    """Print plain lines; nothing in them is markup, and nothing is broken that is not too long."""
    console = Console(highlight=False, markup=False, emoji=False)
    for line in lines:
        console.print(line, soft_wrap=not console.is_terminal)


def say_heading(words: str) -> None:
    """Print a heading, bold where that can be seen."""
    Console(highlight=False).print(Text(words, style="bold"))


def say_json(answer: Any) -> None:
    """Print an answer as JSON, letters as they are."""
    sys.stdout.write(json.dumps(as_json(answer), ensure_ascii=False, indent=2) + "\n")


def say_answer(answer: Told, *, as_json: bool) -> None:
    """Print an answer in its own words, or as JSON."""
    if as_json:
        say_json(answer)
    else:
        say(answer.words())


def say_table(columns: Sequence[str], rows: Iterable[Sequence[str]], *, indent: int = 0) -> None:
    """Print a table; a long cell is folded within its column."""
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="bold")
    for name in columns:
        # an identifier is copied by hand or with the mouse, so it stays in one piece
        table.add_column(Text(name), overflow="fold", no_wrap=name == "Identifier")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    _print(Padding(table, (0, 0, 0, indent)))


def say_pairs(pairs: Iterable[tuple[str, str]], *, indent: int = 0) -> None:
    """Print names and values in two columns."""
    table = Table(box=None, show_header=False, pad_edge=False)
    table.add_column(style="dim", max_width=28)
    table.add_column(overflow="fold")
    for name, value in pairs:
        table.add_row(Text(name), Text(value))
    _print(Padding(table, (0, 0, 0, indent)))


def _print(shown: Padding) -> None:
    """Print a table; where it is piped, without the spaces that fill its last column."""
    console = Console(highlight=False)
    if console.is_terminal:
        console.print(shown)
        return
    with console.capture() as captured:
        console.print(shown)
    sys.stdout.writelines(f"{line.rstrip()}\n" for line in captured.get().splitlines())


def say_error(error: GuardbookError) -> None:
    """Print an error on the error output: one line, and one for each fault."""
    console = Console(stderr=True, highlight=False, markup=False, emoji=False)
    console.print(Text(error.message, style="bold red"), soft_wrap=not console.is_terminal)
    for fault in error.faults:
        console.print(f"  - {fault}", soft_wrap=not console.is_terminal)
