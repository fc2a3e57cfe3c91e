"""A data folder belongs to one process at a time."""

import subprocess
import sys
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import Busy, StorageFailed, WrongUse
from tests.catalogue.shelf import save, strip

HOLD = """
import sys, pathlib
from guardbook.catalogue.catalogue import open_catalogue
with open_catalogue(pathlib.Path(sys.argv[1])):
    print("open", flush=True)
    sys.stdin.read()
"""


def test_a_second_one_is_told_who_has_the_folder_and_what_to_do(tmp_path: Path) -> None:
    command = [sys.executable, "-c", HOLD, str(tmp_path)]
    holder = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert holder.stdout
    assert holder.stdout.readline() == "open\n"
    try:
        with pytest.raises(Busy, match="Close that one") as caught:
            open_catalogue(tmp_path)
        assert caught.value.details["process"] == str(holder.pid)
    finally:
        holder.kill()
        holder.communicate()
    with open_catalogue(tmp_path) as catalogue:
        save(catalogue.access(), strip())


def test_the_same_process_does_not_open_a_folder_twice(tmp_path: Path) -> None:
    with open_catalogue(tmp_path), pytest.raises(Busy):
        open_catalogue(tmp_path)
    open_catalogue(tmp_path).close()


def test_a_folder_that_is_a_file_cannot_be_used_and_is_named(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("", encoding="utf-8")
    with pytest.raises(StorageFailed, match="data"):
        open_catalogue(tmp_path / "data")


def test_a_ledger_that_is_something_else_is_not_touched(tmp_path: Path) -> None:
    file = tmp_path / "ledger.sqlite"
    file.write_bytes(b"a photograph, perhaps" * 100)
    with pytest.raises(StorageFailed, match="damaged"):
        open_catalogue(tmp_path)
    assert file.read_bytes() == b"a photograph, perhaps" * 100


def test_a_catalogue_begun_with_one_base_is_not_opened_with_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_catalogue(tmp_path) as catalogue:
        save(catalogue.access(), strip())
    monkeypatch.setenv("GUARDBOOK_BASE", "https://other.example/")
    settings.current.cache_clear()
    try:
        with pytest.raises(WrongUse, match=r"GUARDBOOK_BASE"):
            open_catalogue(tmp_path)
    finally:
        monkeypatch.undo()
        settings.current.cache_clear()
    open_catalogue(tmp_path).close()
