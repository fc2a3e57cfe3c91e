"""A workshop's own shapes are read beside ours; one that cannot be used is named and left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.completeness.report import Report
from guardbook.completeness.stages import check
from guardbook.completeness.structure import structure_faults
from guardbook.records import terms
from tests.completeness.situations import PLACING, SEPARATION, STRIP, everything, quads, strip
from tests.wording.marked import marking

PREFIXES = """
@prefix sh: <http://www.w3.org/ns/shacl#> .
@prefix gb: <https://w3id.org/guardbook/ns#> .
@prefix ours: <https://workshop.example/shapes/> .
"""
ASKS_FOR_A_THICKNESS = """
ours:more a sh:NodeShape ; sh:targetClass gb:Fragment ; sh:property ours:thickness .
ours:thickness a sh:PropertyShape ; sh:path gb:thickness ; sh:minCount 1 ;
    sh:message "We always measure the thickness at the edge."@en ; gb:why "House rule."@en ;
    gb:how "With the gauge in drawer two."@en ; gb:laterPossible false .
"""
BROKEN = {
    "syntax": ("ours:a a sh:NodeShape ; sh:property [ sh:path gb:height .", "line"),
    "queries": (
        "ours:a a sh:NodeShape ; sh:targetClass gb:Fragment ; sh:sparql [ sh:select 'x' ] .",
        "sh:sparql",
    ),
    "scripts": ("ours:a a sh:NodeShape ; sh:targetClass gb:Fragment ; sh:js [] .", "sh:js"),
    "no-path": (
        "ours:a a sh:NodeShape ; sh:targetClass gb:Fragment ; sh:property [ sh:minCount 1 ] .",
        "sh:path",
    ),
    "no-number": (
        "ours:a a sh:PropertyShape ; sh:targetClass gb:Fragment ; sh:path gb:height ; sh:minCount 'x' .",
        "integer",
    ),
    "in-a-circle": (
        "ours:a a sh:NodeShape ; sh:targetClass gb:Fragment ; sh:node ours:b . ours:b sh:node ours:a .",
        "Recursive",
    ),
}

Written = Callable[[str, str], Report]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give a workshop's own folder that is in use."""
    here = replace(settings.current(), workshop_shapes=tmp_path)
    monkeypatch.setattr(settings, "current", lambda: here)
    terms.forget()
    yield tmp_path
    monkeypatch.undo()
    terms.forget()


def write(folder: Path, name: str, body: str) -> None:
    (folder / name).write_text(PREFIXES + body, encoding="utf-8")


def report() -> Report:
    return check(quads(*everything()), "before-lifting", [STRIP, PLACING, SEPARATION])


def test_a_house_rule_is_asked_like_our_own(folder: Path) -> None:
    write(folder, "before-lifting-house-rules.ttl", ASKS_FOR_A_THICKNESS)
    (item,) = report().missing
    assert (item.field, item.stage, item.later) == ("thickness", "before-lifting", False)
    assert (item.why, item.how) == ("House rule.", "With the gauge in drawer two.")
    assert item.labels["ca"] == "Gruix (mm)"
    assert report().left_out == ()


def test_a_house_rule_for_the_structure_is_a_fault_of_the_record(folder: Path) -> None:
    rule = ASKS_FOR_A_THICKNESS.replace("sh:minCount 1", "sh:maxInclusive 2")
    write(folder, "structure-house-rules.ttl", rule)
    faults = structure_faults(quads(strip(thickness="3")))
    assert [(fault.found, fault.expected, fault.doubt) for fault in faults] == [("3", "2 or less", False)]


@pytest.mark.parametrize("case", BROKEN)
def test_a_file_that_cannot_be_used_is_named_left_out_and_stops_nothing(folder: Path, case: str) -> None:
    body, told = BROKEN[case]
    write(folder, f"on-sight-{case}.ttl", body)
    write(folder, "before-lifting-house-rules.ttl", ASKS_FOR_A_THICKNESS)
    found = report()
    assert [item.field for item in found.missing] == ["thickness"]
    (line,) = found.left_out
    assert line.startswith(f"on-sight-{case}.ttl was left out:")
    assert told in line
    assert line in found.words()


def test_a_file_that_does_not_say_what_it_adds_to_is_named(folder: Path) -> None:
    write(folder, "ours.ttl", ASKS_FOR_A_THICKNESS)
    (line,) = report().left_out
    assert "named after what it adds to (structure, on-sight" in line


def test_why_a_file_was_left_out_is_told_to_each_reader_in_their_language(folder: Path) -> None:
    write(folder, "ours.ttl", ASKS_FOR_A_THICKNESS)
    before = report().left_out
    with marking():
        (line,) = report().left_out
    assert line.startswith("«ours.ttl was left out: ")
    assert "«a file with shapes is named after what it adds to (structure, on-sight" in line
    assert report().left_out == before


def test_terms_of_the_workshop_lie_in_the_same_folder_unharmed(folder: Path) -> None:
    write(folder, "words.ttl", "ours:a <http://www.w3.org/2004/02/skos/core#prefLabel> 'a word'@en .")
    write(folder, "broken-words.ttl", "ours:a ours:b")
    (line,) = report().left_out
    assert line.startswith("broken-words.ttl was left out:")
    assert terms.label("answer", "cannot-be-known") == "cannot be known"
