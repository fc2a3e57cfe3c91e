"""The options that several commands share, each worded once."""

from __future__ import annotations

import getpass
from pathlib import Path
from typing import Annotated

import typer

from guardbook import settings
from guardbook.catalogue.access import Viewer


def login_name() -> str:
    """Give who is at this machine, for the record of who saved what."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "unnamed"


def viewer(*, public: bool) -> Viewer:
    """Give the viewer that `--public` asks for."""
    return Viewer.PUBLIC if public else Viewer.WORKSHOP


def folder_or_default(folder: Path | None) -> Path:
    """Give the folder that `--data` names, or the one of this installation."""
    return folder or settings.current().data


Name = Annotated[
    str, typer.Argument(metavar="ID", help="An identifier, kind/identifier, or a workshop number.")
]
Data = Annotated[
    Path | None,
    typer.Option(
        "--data",
        metavar="FOLDER",
        file_okay=False,
        help="The catalogue's folder, where it is not the usual one.",
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON, for other programs.")]
AsPublic = Annotated[bool, typer.Option("--public", help="Show only what the public may see.")]
Sure = Annotated[bool, typer.Option("--sure", help="Keep values that were asked about: they are right.")]
Who = Annotated[
    str,
    typer.Option(
        "--who",
        metavar="NAME",
        default_factory=login_name,
        show_default="your login name",
        help="Who saves it.",
    ),
]
WhatFor = Annotated[str, typer.Option("--what-for", metavar="TEXT", help="What for, kept in the history.")]
StartedFrom = Annotated[
    int, typer.Option("--revision", metavar="N", min=1, help="The revision you started from (see `show`).")
]
Language = Annotated[
    str, typer.Option("--language", metavar="LANG", help="Language of the labels: en, ca, es, fr, de or it.")
]
