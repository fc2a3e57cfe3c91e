"""Drawing from the terminal: a volume at its stages, two uses of one cover, a leaf rejoined."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tests.cli.conftest import Run

LAW_BOOK, ACCOUNTS, TOLL_BOOK, PSALTER = "Q21-008", "Q19-014 A", "Q19-014 B", "C-01"


@pytest.fixture
def drawn(run: Run) -> Run:
    """Give the command on a catalogue that holds the demo too."""
    run("demo")
    return run


def test_stages_are_listed_with_the_pieces_of_each(drawn: Run) -> None:
    listed = drawn("stages", LAW_BOOK, "--json").json
    assert [one["number"] for one in listed] == [1, 2, 3, 4, 5]
    assert [one["pieces"] for one in listed][3] == 0


def test_a_stage_is_drawn_into_a_file_that_others_may_read(drawn: Run, tmp_path: Path) -> None:
    file = tmp_path / "spine.svg"
    assert drawn("scene", LAW_BOOK, "--stage", "3", "-o", str(file)).code == 0
    assert file.read_text(encoding="utf-8").strip().endswith("</svg>")
    umask = os.umask(0o022)
    os.umask(umask)
    assert file.stat().st_mode & 0o777 == 0o666 & ~umask


def test_a_drawing_that_there_is_not_is_told_with_those_there_are(drawn: Run) -> None:
    ran = drawn("scene", LAW_BOOK, "--plane", "flap")
    assert (ran.code, "textblock-spine" in ran.err) == (2, True)
    assert drawn("scene", LAW_BOOK, "--as", "gif").code == 2


def test_two_uses_of_one_cover_are_told_apart_hole_by_hole(drawn: Run) -> None:
    rows = json.loads(drawn("overlay", ACCOUNTS, TOLL_BOOK, "--as", "json").out)["rows"]
    assert {"lacing hole", "fastening hole"} <= {row["what"] for row in rows}
    words = drawn("overlay", ACCOUNTS, TOLL_BOOK).out
    assert "34.0 mm apart" in words
    assert "46.0 mm apart" in words


def test_a_leaf_is_rejoined_from_its_pieces(drawn: Run) -> None:
    told = drawn("rejoin", PSALTER).out
    assert "10 pieces" in told
    assert "Strip of a psalter, spine panel 3 [fragment/" in told
    assert "    from Decretals with commentary, printed 1541, Sal. II 40 [host/N6Y9VM-C]" in told
    assert drawn("rejoin", PSALTER, "--as", "svg").out.startswith("<svg")
    assert drawn("rejoin", PSALTER, "--as", "svg", "--leaf", "9").code == 2


def test_missing_lines_are_told_from_a_text_that_was_entered(drawn: Run) -> None:
    broadside = "C-02"
    assert "By the 183 letters of the text" in drawn("rejoin", broadside).out
    assert drawn("set", broadside, "knownText=Arma virumque cano", "--revision", "1").code == 0
    told = drawn("rejoin", broadside).out
    assert "4 lines are missing" in told
    assert "letters of the text" not in told
