"""One style and full types throughout, held by the tools that pyproject.toml sets up."""

import subprocess
import sys

import pytest

from tests.house import sources


@pytest.mark.parametrize(
    "words",
    [["ruff", "check", "--no-fix"], ["ruff", "format", "--check", "--diff"], ["mypy"]],
    ids=["linted", "formatted", "typed"],
)
def test_the_whole_tree_is_in_one_style(words: list[str]) -> None:
    command = [sys.executable, "-m", *words]
    done = subprocess.run(command, cwd=sources.TOP, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
