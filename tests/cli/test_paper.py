"""What is printed, from the terminal."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.api.shelf import BOOK, STRIP
from tests.cli.conftest import Run


@pytest.mark.parametrize(
    "words",
    [
        ("label", STRIP.identifier),
        ("label", STRIP.identifier, BOOK.identifier, "--start", "5"),
        ("label", STRIP.identifier, "--on", "a4", "--columns", "3", "--label-width", "60", "--gap-x", "1"),
        ("bench-sheet",),
        ("bench-sheet", BOOK.identifier, "--paper", "letter", "--language", "ca"),
        ("report", BOOK.identifier),
        ("report", STRIP.identifier, "--for", "scholar", "--public"),
    ],
)
def test_a_paper_is_written_to_a_file(words: tuple[str, ...], run: Run, tmp_path: Path) -> None:
    file = tmp_path / "paper.pdf"
    assert run(*words, "--output", file).code == 0
    assert file.read_bytes().startswith(b"%PDF-")


def test_what_cannot_be_printed_leaves_no_file_and_says_why(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "paper.pdf"
    for words, said in (
        (("label", STRIP.identifier, "--start", "2"), "Count the labels"),
        (("report", STRIP.identifier, "--for", "king"), "owner, scholar"),
        (("bench-sheet", STRIP.identifier), "no volume"),
        (("bench-sheet", "--language", "xx"), "en, ca"),
    ):
        ended = run(*words, "-o", file)
        assert ended.code == 2
        assert said in ended.err
    assert not file.exists()
