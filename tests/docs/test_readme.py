"""The walk through the README, run word for word as a newcomer would, on a catalogue of its own."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")
ANYTHING = "…"


def walk() -> list[tuple[str, list[str]]]:
    """Give each command of the console blocks with the lines it is said to print."""
    steps: list[tuple[str, list[str]]] = []
    for block in re.findall(r"```console\n(.*?)```", README, re.DOTALL):
        for line in block.splitlines():
            if line.startswith("$ "):
                steps.append((line[2:], []))
            else:
                steps[-1][1].append(line)
    return steps


def agrees(said: list[str], printed: str) -> bool:
    """Say whether what was printed is what the README says; a line of … stands for any lines."""
    pieces = [r"(?:.*\n)*?" if line == ANYTHING else re.escape(line) + r"\n" for line in said]
    return re.fullmatch("".join(pieces), printed.rstrip("\n") + "\n") is not None


def test_every_command_of_the_walk_prints_what_the_readme_says(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GUARDBOOK_DATA", str(tmp_path / "data"))
    env = {**os.environ, "PYTHONPATH": str(TOP / "service"), "COLUMNS": "80"}
    (tmp_path / "docs").symlink_to(TOP / "docs")
    wrong = []
    for command, said in walk():
        words = shlex.split(command)
        assert words[:2] == ["python3", "service"]
        run = subprocess.run(
            [sys.executable, "-m", "guardbook", *words[2:]],
            cwd=tmp_path,
            env=env,
            capture_output=True,
            check=False,
            text=True,
        )
        if not agrees(said, run.stdout):
            wrong.append(f"$ {command}\n{run.stdout}{run.stderr}")
    assert wrong == []
    assert (tmp_path / "guard.ttl").stat().st_size > 500


def test_the_readme_opens_with_the_job_in_one_paragraph() -> None:
    blocks = README.split("\n\n")
    assert blocks[0] == "# Guardbook"
    assert "bindings" in blocks[1]
    assert blocks[2].startswith("## ")


def test_the_comparison_sees_a_difference() -> None:
    assert agrees(["a", ANYTHING, "c"], "a\nb\nb\nc\n")
    assert not agrees(["a", "c"], "a\nb\nc\n")
