"""What is printed, from the terminal."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from guardbook.cli.handing_on import writing
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


@pytest.mark.parametrize(
    "words",
    [
        ("report", STRIP.identifier),
        ("label", STRIP.identifier),
        ("bench-sheet",),
        ("export", STRIP.identifier, "--as", "xlsx"),
        ("export", STRIP.identifier, "--as", "labels"),
        ("template", "--as", "xlsx"),
        ("scene", BOOK.identifier, "--as", "png"),
    ],
)
def test_what_is_no_text_is_kept_from_a_terminal_with_the_mend(
    words: tuple[str, ...], run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    ended = run(*words)
    assert (ended.code, ended.out) == (2, "")
    assert "-o NAME." in ended.err


def test_what_is_no_text_may_be_piped(capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    with writing(None, ".pdf") as file:
        file.write(b"%PDF-\x80")
    sys.stdout.flush()
    assert capsysbinary.readouterr().out == b"%PDF-\x80"


def test_text_may_go_to_a_terminal(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert STRIP.identifier in run("export", STRIP.identifier, "--as", "turtle").out


@pytest.mark.parametrize("words", [(), ("--as", "papyrus")])
def test_the_formats_are_listed_where_none_or_an_unknown_one_is_said(
    words: tuple[str, ...], run: Run
) -> None:
    ended = run("export", STRIP.identifier, *words)
    assert ended.code == 2
    assert "The formats are: turtle, " in ended.err


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
