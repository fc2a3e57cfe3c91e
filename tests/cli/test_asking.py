"""Asking from the terminal: what is printed, as words and as JSON, and how the command ends."""

import json
from pathlib import Path

import pytest

from guardbook.actions.open_catalogue import opened
from guardbook.catalogue.access import Viewer
from tests.api.shelf import BOOK, SHELF, SLIP, STRIP
from tests.binding.bench import placing, volume
from tests.catalogue.shelf import save
from tests.cli.conftest import Run

READING = [
    ("show", STRIP.short),
    ("find", "strip"),
    ("where", STRIP.short),
    ("pieces", BOOK.short),
    ("check", STRIP.short),
    ("check",),
    ("history", STRIP.short),
    ("history", STRIP.short, "--compare", 1, 1),
    ("verify",),
    ("identifiers",),
]


@pytest.mark.parametrize("words", READING, ids=lambda words: " ".join(map(str, words)))
def test_every_answer_can_be_had_as_json(run: Run, words: tuple[object, ...]) -> None:
    plain, as_json = run(*words), run(*words, "--json")
    assert as_json.code == plain.code < 2
    assert isinstance(as_json.json, (dict, list))
    assert plain.out.strip()


@pytest.mark.parametrize("words", READING, ids=lambda words: " ".join(map(str, words)))
def test_nothing_is_coloured_or_left_ragged_where_it_is_piped(run: Run, words: tuple[object, ...]) -> None:
    lines = run(*words).out.splitlines()
    assert not [line for line in lines if "\x1b" in line or line != line.rstrip()]


def test_a_record_is_shown_with_labels_and_what_refers_to_it(run: Run) -> None:
    out = run("show", STRIP.identifier.lower()).out
    assert out.startswith(f"Strip of a gradual (fragment)\n{STRIP.short}, revision 1, saved ")
    for said in ("Height (mm)", "40.0", "parchment", "Anna (agent/", "Drawer 4", "Placing", "Separation"):
        assert said in out


def test_a_record_is_shown_as_the_public_sees_it(run: Run) -> None:
    out = run("show", STRIP.short, "--public").out
    assert "parchment" in out
    assert "Drawer 4" not in out
    assert "Anna" not in out
    assert run("show", SLIP.short, "--public").code == 2


def test_a_volume_is_shown_with_its_stages_in_a_table(run: Run) -> None:
    lines = [line.split() for line in run("show", BOOK.short).out.splitlines()]
    assert ["stage-1", "1", "bound", "1510"] in lines


def test_records_are_found_by_facet_and_page(run: Run) -> None:
    assert STRIP.short in run("find", "--facet", "material=parchment").out
    assert STRIP.short in run("find", "--facet", "whereNow=unknown", "--facet", "hasImage=no").out
    assert "Nothing found" in run("find", "--facet", "whereNow=in-volume").out
    out = run("find", "--limit", 3).out
    assert out.endswith(f"1 to 3 of {len(SHELF)}; --offset 3 shows the next.\n")
    assert run("find", "--facet", "material").code == 2
    assert run("find", "--kind", "book").code == 2


def test_where_it_sat_is_told(run: Run) -> None:
    ran = run("where", STRIP.short)
    assert ran.code == 0
    assert "In Book of tithes (T 12), as sewing guard:" in ran.out


def test_a_contradiction_is_told_and_ends_with_one(run: Run, folder: Path) -> None:
    other = volume("Other book", "1510")
    both = placing("both", "Strip of a gradual", "Other book", 1, when="1511")
    with opened(Viewer.WORKSHOP, folder) as access:
        save(access, other, both)
    ran = run("where", STRIP.short)
    assert ran.code == 1
    assert "Contradiction: " in ran.out
    assert run("pieces", BOOK.short).code == 1


def test_what_is_missing_is_told_and_ends_with_one(run: Run) -> None:
    ran = run("check", STRIP.short, "--for", "before-lifting")
    assert ran.code == 1
    assert "Why:" in ran.out
    assert "sh:ValidationReport" in run("check", STRIP.short, "--shacl").out
    assert run("check", STRIP.short, "--for", "lunch").code == 2


def test_the_whole_catalogue_is_checked_in_one_table(run: Run) -> None:
    ran = run("check", "--for", "on-sight")
    assert ran.code == 1
    assert f"{STRIP.short}  " in ran.out
    assert ran.out.splitlines()[-1].endswith("are complete.")


def test_what_a_thing_is_not_asked_is_wrong_use(run: Run) -> None:
    assert run("where", BOOK.short).code == 2
    assert run("pieces", STRIP.short).code == 2
    assert run("show", STRIP.short, "--language", "tlh").code == 2


def test_a_mistyped_identifier_is_answered_with_the_likely_one(run: Run) -> None:
    slip = STRIP.identifier[1] + STRIP.identifier[0] + STRIP.identifier[2:]
    ran = run("show", slip)
    assert (ran.code, ran.out) == (2, "")
    assert f"Did you mean {STRIP.identifier}" in ran.err


def test_records_are_handed_on_to_a_file_or_the_terminal(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "all.nq"
    assert run("export", "--all", "--as", "nquads", "-o", path).code == 0
    assert all(f"<{record.id}>" in path.read_text(encoding="utf-8") for record in SHELF)
    assert json.loads(run("export", STRIP.short, "--as", "jsonld").out)["@graph"][0]["id"] == STRIP.id
    assert SLIP.id not in run("export", "--all", "--as", "nquads", "--public").out


@pytest.mark.parametrize(
    "words",
    [
        ("--all", STRIP.short, "--as", "turtle"),
        ("--as", "turtle"),
        (STRIP.short, "--as", "papyrus"),
        (STRIP.short,),
    ],
)
def test_what_cannot_be_handed_on_leaves_no_file(run: Run, tmp_path: Path, words: tuple[str, ...]) -> None:
    path = tmp_path / "out.ttl"
    ran = run("export", *words, "-o", path)
    assert ran.code == 2
    assert [found.name for found in tmp_path.iterdir()] == ["data"]


def test_a_file_that_cannot_be_written_is_named(run: Run, tmp_path: Path) -> None:
    ran = run("export", "--all", "--as", "turtle", "-o", tmp_path / "no" / "out.ttl")
    assert ran.code == 2
    assert "could not be written" in ran.err


def test_the_catalogue_is_verified_and_made_anew(run: Run) -> None:
    assert run("verify").out == "The ledger, the graph and the search agree.\n"
    assert f"{len(SHELF)} records" in run("rebuild").out
    assert run("verify").code == 0


def test_the_demo_is_loaded_once(run: Run) -> None:
    assert "records of the demo are loaded" in run("demo").out
    assert run("demo").out == "The demo is loaded already.\n"


def test_a_catalogue_in_use_says_so(run: Run, folder: Path) -> None:
    with opened(Viewer.WORKSHOP, folder):
        ran = run("find", "strip")
    assert (ran.code, ran.out) == (2, "")
    assert "in use by another Guardbook" in ran.err
