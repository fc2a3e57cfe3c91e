"""The page of commands is what the commands say of themselves today."""

from __future__ import annotations

from pathlib import Path

from guardbook.cli.application import COMMANDS
from guardbook.cli.reference import reference

PAGE = Path(__file__).resolve().parents[2] / "docs" / "commands.md"


def test_the_page_of_commands_is_current() -> None:
    """Where this fails: `python -m guardbook.cli.reference > docs/commands.md`, and look at what changed."""
    assert PAGE.read_text(encoding="utf-8") == reference()


def test_every_command_has_its_place_on_the_page() -> None:
    text = reference()
    assert [name for name, _, _ in COMMANDS if f"### {name}\n" not in text] == []
