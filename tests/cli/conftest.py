"""The command as it is typed, run in this process on a catalogue of its own."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from guardbook.cli import main
from tests.api.shelf import SHELF
from tests.catalogue.shelf import save


@dataclass(frozen=True)
class Ran:
    """How a command ended, and what it printed."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """Give what was printed, which is JSON."""
        return json.loads(self.out)


Run = Callable[..., Ran]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give the folder of a catalogue with a volume, two pieces and what happened to them."""
    with opened(Viewer.WORKSHOP, tmp_path / "data") as access:
        save(access, *SHELF)
    return tmp_path / "data"


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Give what runs a command, as if it were piped from a terminal of 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")

    def run_words(*words: object) -> Ran:
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main(
                list(map(str, words)) if words[0] == "template" else [*map(str, words), "--data", str(folder)]
            )
        printed = capsys.readouterr()
        return Ran(int(ended.value.code or 0), printed.out, printed.err)

    return run_words
