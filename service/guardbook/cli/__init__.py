"""Floor 9: the `guardbook` command."""

from guardbook.cli.application import main

__all__ = ["main"]
