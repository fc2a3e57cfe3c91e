"""A workshop adds rows of its own, in a file and without code; what cannot be used is named and left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.evidence import reading_rows as rows_module
from guardbook.evidence.reading_rows import reading_rows
from tests.binding.bench import iri, piece
from tests.evidence.covers import read, status
from tests.wording.marked import marking

STRIP = iri("fragment", "Strip")
BLUE_THREAD = """
[[rows]]
id = "blue-thread"
about = "piece"
claim = "our-binder"
claim_words = "it was sewn by the binder of the weir house"
strength = "points-to"
observation = "blue thread is noted on it"
ask = '''PREFIX gb: <https://w3id.org/guardbook/ns#>
ASK { GRAPH $this { $this gb:note ?note FILTER CONTAINS(?note, "blue thread") } }'''
[[rows.alternatives]]
words = "another workshop bought the same thread"
decide = "Compare twist and dye."
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give a workshop's own folder that is in use."""
    here = replace(settings.current(), workshop_shapes=tmp_path)
    monkeypatch.setattr(settings, "current", lambda: here)
    yield tmp_path
    monkeypatch.undo()


def test_a_row_with_a_question_in_sparql_is_put_to_the_records(folder: Path) -> None:
    (folder / "ours.toml").write_text(BLUE_THREAD, encoding="utf-8")
    found = read(piece("Strip", note="Sewn with blue thread."), about=STRIP)
    assert status(found, "our-binder") == "pointed to"
    assert "blue thread is noted on it" in found.words()
    assert status(read(piece("Strip", note="Grey thread."), about=STRIP), "our-binder") is None


def test_a_row_may_use_our_signs_with_measures_of_its_own(folder: Path) -> None:
    row = (
        '[[rows]]\nid = "x"\nabout = "piece"\nclaim = "cut-on-purpose"\nstrength = "fits"\n'
        'signs = [{ see = "edge-straight", within_mm = 3.0, least_mm = 20.0, least_points = 3 }]\n'
    )
    (folder / "ours.toml").write_text(row, encoding="utf-8")
    strip = piece("Strip", outline="POLYGON ((0 0, 100 0, 100 40, 50 42, 0 40, 0 0))")
    assert status(read(strip, about=STRIP), "cut-on-purpose") == "merely fitting"


BROKEN = {
    "a broken query": (BLUE_THREAD.replace("ASK { GRAPH", "ASK { GRAPH ?"), "blue-thread"),
    "a question over the network": (
        BLUE_THREAD.replace("FILTER", "SERVICE <http://example.org/> { ?a ?b ?c } FILTER"),
        "SERVICE|not answered",
    ),
    "a pattern outside the records": (BLUE_THREAD.replace("GRAPH $this", ""), "not answered"),
    "no ask": (BLUE_THREAD.replace("ASK {", "SELECT * {"), "no ASK"),
    "an unknown sign": ('[[rows]]\nid = "x"\nabout = "piece"\nsigns = [{ see = "smell" }]', "smell"),
    "missing measures": ('[[rows]]\nid = "x"\nabout = "piece"\nsigns = [{ see = "edge-straight" }]', "needs"),
    "an unknown subject": ('[[rows]]\nid = "x"\nabout = "reader"\n', "reader"),
    "an unknown strength": (BLUE_THREAD.replace("points-to", "proves"), "proves"),
    "no table at all": ("rows = 3", "cannot be read"),
    "a syntax error": ("[[rows", "cannot be read"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_what_cannot_be_used_is_named_skipped_and_reported(folder: Path, name: str) -> None:
    text, reason = BROKEN[name]
    (folder / "ours.toml").write_text(text, encoding="utf-8")
    (folder / "zweite.toml").write_text(BLUE_THREAD, encoding="utf-8")
    found = read(piece("Strip", note="blue thread"), about=STRIP)
    assert len(found.notes) == 1
    assert "ours.toml" in found.notes[0]
    assert any(word in found.notes[0] for word in reason.split("|"))
    assert status(found, "our-binder") == "pointed to"


def test_why_a_row_was_not_used_is_told_to_each_reader_in_their_language(folder: Path) -> None:
    (folder / "ours.toml").write_text(BROKEN["no ask"][0], encoding="utf-8")
    (before,) = reading_rows().skipped
    with marking():
        (told,) = reading_rows().skipped
    assert told == "«Row blue-thread of ours.toml was not used: «the question is no ASK.»»"
    assert reading_rows().skipped == (before,)
    assert told.replace("«", "").replace("»", "") == before


def test_our_own_rows_are_whole_and_each_has_its_claim_in_words() -> None:
    found = reading_rows()
    assert found.skipped == ()
    assert len({row.id for row in found.rows}) == len(found.rows) >= 16
    assert all(row.claim_words != row.claim for row in found.rows)


def test_a_broken_file_of_our_own_stops_everything(tmp_path: Path) -> None:
    path = tmp_path / "evidence.toml"
    path.write_text("[[rows]]\nid = 'x'\n", encoding="utf-8")
    with pytest.raises(BrokenShapes, match=r"evidence\.toml"):
        rows_module._ours(path)


def test_a_claim_that_one_row_settles_and_another_rules_out_is_shown_as_contradictory(folder: Path) -> None:
    row = BLUE_THREAD.replace("our-binder", "label-later").replace("points-to", "rules-out")
    (folder / "ours.toml").write_text(row, encoding="utf-8")
    label = piece("Label")
    trace = {"id": "#feature-1", "featureKind": "inscription", "runsUnder": [label.id]}
    found = read(piece("Strip", note="blue thread", features=[trace]), label, about=STRIP)
    assert status(found, "label-later") == "contradictory"
