"""The page on evidence says what the program does."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.actions.date_record import date_record
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.evidence.reading_rows import reading_rows
from tests.house import sources

PAGE = (sources.TOP / "docs" / "evidence.md").read_text(encoding="utf-8")


def test_the_sentence_it_quotes_is_the_answer_for_the_salt_ledger() -> None:
    quoted = " ".join(line.removeprefix("> ") for line in PAGE.splitlines() if line.startswith("> "))
    assert quoted.startswith("Not before 1711")
    with open_catalogue(None) as opened:
        access = opened.access()
        load_demo(access, if_empty=True)
        assert quoted in date_record(access, "host/K5P40S-X").words()


def test_the_row_it_shows_can_be_used_as_it_stands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    (tmp_path / "ours.toml").write_text(example, encoding="utf-8")
    here = replace(settings.current(), workshop_shapes=tmp_path)
    monkeypatch.setattr(settings, "current", lambda: here)
    found = reading_rows()
    assert found.skipped == ()
    assert "blue-thread" in {row.id for row in found.rows}


def test_every_table_it_names_is_there() -> None:
    named = set(re.findall(r"`shapes/(\w+\.(?:toml|ttl))`", PAGE))
    assert len(named) == 5
    assert all((settings.current().shapes / name).is_file() for name in named)
