"""Registering from the terminal: adding files, setting fields, taking out."""

import json
import re
from pathlib import Path

import pytest

from guardbook.records.documents import to_document
from guardbook.records.identifiers import is_valid
from tests.api.shelf import PUT, STRIP
from tests.cli.conftest import Run


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "pieces.csv"
    path.write_text("Title,Workshop number,Height (mm)\nA tacket,W 20,12.5\n", encoding="utf-8")
    return path


def test_a_sheet_is_tried_first_and_saved_then(run: Run, sheet: Path) -> None:
    tried = run("add", sheet, "--dry-run")
    assert tried.code == 0
    assert tried.out.endswith("1 would be new, 0 changed, 0 as they were. Nothing is saved yet.\n")
    assert run("find", "tacket").out.startswith("Nothing found")
    saved = run("add", sheet, "--who", "Mira")
    assert re.search(r"new +fragment/\S+ +W 20 +A tacket\n1 are new", saved.out)
    assert run("history", "W 20", "--json").json[0]["who"] == "Mira"


def test_every_fault_of_a_sheet_is_told_with_its_place_and_nothing_saved(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "pieces.csv"
    path.write_text("Title,Height (mm),Material\nA tie,tall,cheese\nA slip,12,paper\n", encoding="utf-8")
    ran = run("add", path)
    assert (ran.code, ran.out) == (2, "")
    first, *faults = ran.err.splitlines()
    assert first == "Nothing was saved."
    assert len(faults) == 2
    assert all(line.startswith("  - Expected") and "pieces.csv, row 2" in line for line in faults)
    assert run("add", path, "--dry-run").code == 2


def test_a_doubtful_value_is_asked_about(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "strip.json"
    path.write_text('{"type": "Fragment", "title": "Very long strip", "height": "30000"}', encoding="utf-8")
    asked = run("add", path)
    assert (asked.code, "Please confirm" in asked.err) == (1, True)
    assert run("add", path, "--dry-run").code == 1
    assert run("add", path, "--sure").code == 0


def test_a_record_is_changed_by_the_document_it_showed(run: Run, tmp_path: Path) -> None:
    body = run("show", STRIP.short, "--json").json
    assert body == json.loads(json.dumps(to_document(STRIP)))
    path = tmp_path / "strip.json"
    path.write_text(json.dumps({**body, "note": "torn"}), encoding="utf-8")
    assert run("add", path).code == 2
    assert "1 changed" in run("add", path, "--revision", 1).out


@pytest.mark.parametrize("name", ["missing.csv", "."])
def test_a_file_that_is_not_there_is_named(run: Run, tmp_path: Path, name: str) -> None:
    ran = run("add", tmp_path / name)
    assert ran.code == 2
    assert str(tmp_path / name) in ran.err


def test_fields_are_set_from_the_revision_one_started_from(run: Run) -> None:
    assert run("set", STRIP.short, "height=41.5", "note=torn", "--revision", 1).out.endswith("revision 2.\n")
    stale = run("set", STRIP.short, "height=42", "--revision", 1)
    assert (stale.code, stale.out) == (2, "")
    assert "since you opened it" in stale.err
    changes = run("history", STRIP.short, "--compare", 1, 2).out
    assert "Height (mm): 41.5 (was 40.0)" in changes


def test_a_field_there_is_not_is_answered_with_a_near_one(run: Run) -> None:
    ran = run("set", STRIP.short, "heigth=41.5", "--revision", 1)
    assert ran.code == 2
    assert "Did you mean height?" in ran.err


def test_setting_asks_for_the_revision(run: Run) -> None:
    ran = run("set", STRIP.short, "height=41.5")
    assert ran.code == 2
    assert "--revision" in ran.err


def test_a_record_is_taken_out_with_a_reason(run: Run, tmp_path: Path) -> None:
    assert run("delete", PUT.short, "--revision", 1, "--why", "entered twice").code == 2
    path = tmp_path / "slip.json"
    path.write_text('{"type": "Fragment", "title": "Slip of the pen"}', encoding="utf-8")
    number = run("add", path, "--json").json["new"][0].rpartition("/")[2]
    assert run("delete", number, "--revision", 1, "--why", "entered twice").code == 0
    gone = run("show", number)
    assert gone.code == 2
    assert "entered twice" in gone.err
    assert "Taken out: entered twice" in run("history", number).out


def test_fresh_identifiers_are_drawn_for_labels(run: Run) -> None:
    drawn = run("identifiers", 25).out.split()
    assert len(set(drawn)) == 25
    assert all(map(is_valid, drawn))
    assert len(run("identifiers", 3, "--json").json) == 3


def test_the_sheet_to_fill_in_is_given_in_ones_language(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "pieces.xlsx"
    assert run("template", "--as", "xlsx", "--language", "ca", "-o", path).code == 0
    assert path.read_bytes().startswith(b"PK")
    assert "Alçada (mm)" in run("template", "--language", "ca").out
    assert run("template", "--as", "pdf").code == 2
