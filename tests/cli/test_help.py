"""The help reads well at 80 columns, and the page of commands is made from it."""

import re
from pathlib import Path

import pytest

from guardbook.cli import main
from guardbook.cli.application import COMMANDS, INSTEAD
from guardbook.cli.reference import COLUMNS, reference
from tests.cli.conftest import Ran, Run

PAGE = Path(__file__).resolve().parents[2] / "docs" / "commands.md"


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    monkeypatch.setenv("COLUMNS", "80")

    def tell(*words: object) -> Ran:
        with pytest.raises(SystemExit) as ended:
            main([*map(str, words)])
        printed = capsys.readouterr()
        return Ran(int(ended.value.code or 0), printed.out, printed.err)

    return tell


def test_the_page_of_commands_is_that_of_the_commands() -> None:
    assert PAGE.read_text(encoding="utf-8") == reference(), (
        "Write it anew: .venv/bin/python -m guardbook.cli.reference > docs/commands.md"
    )


def test_every_command_has_its_place_in_the_page() -> None:
    assert re.findall(r"^### (\S+)$", reference(), re.MULTILINE) == [name for name, _, _ in COMMANDS]


def test_help_fits_the_terminal_and_names_no_types_of_python() -> None:
    helps = re.findall(r"```text\n(.*?)```", reference(), re.DOTALL)
    assert not [line for text in helps for line in text.splitlines() if len(line) > COLUMNS]
    assert not re.findall(r" <[a-z]\w*", "".join(helps))


def test_every_command_is_summed_up_in_one_line(told: Run) -> None:
    out = told("--help").out
    assert "..." not in out.partition("Commands:")[2]
    assert all(re.search(rf"^  {name} +[A-Z].*\.$", out, re.MULTILINE) for name, _, _ in COMMANDS)


def test_the_version_is_told(told: Run) -> None:
    assert re.fullmatch(r"guardbook \d+\.\d+\.\d+\n", told("--version").out)


@pytest.mark.parametrize(("word", "command"), INSTEAD.items())
def test_what_others_call_a_command_leads_to_ours(told: Run, word: str, command: str) -> None:
    ran = told(word, "W 1")
    assert (ran.code, ran.out) == (2, "")
    assert f"try: guardbook {command}." in ran.err
    assert command.partition(" ")[0] in {name for name, _, _ in COMMANDS}
    assert word not in {name for name, _, _ in COMMANDS}


@pytest.mark.parametrize(
    "words", [["bogus"], ["show"], ["delete", "W 1"], ["identifiers", "0"], ["find", "--limit", "x"]]
)
def test_wrong_use_is_told_in_a_few_lines_and_ends_with_two(told: Run, words: list[str]) -> None:
    ran = told(*words)
    assert (ran.code, ran.out) == (2, "")
    assert "Error: " in ran.err
    assert "Traceback" not in ran.err
