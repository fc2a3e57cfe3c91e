"""What the page about the scenario says of it is so."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from guardbook import settings
from guardbook.actions.check_record import check_record
from guardbook.actions.load_demo import demo_records, load_demo
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import UnreadableFile
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from tests.demo.scenario import Scenario
from tests.house.sources import TOP

STORY = (TOP / "docs" / "demo.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def access() -> Iterator[Access]:
    """Give the workshop's view of a catalogue that holds the scenario."""
    with open_catalogue(None) as catalogue:
        workshop = catalogue.access(Viewer.WORKSHOP)
        load_demo(workshop, if_empty=True)
        yield workshop


def test_every_identifier_in_the_story_is_that_of_a_record(scenario: Scenario) -> None:
    named = set(re.findall(r"\b[a-z]+/[0-9A-Z]{6}-[0-9A-Z]\b", STORY))
    assert len(named) > 20
    assert named <= {record.short for record in scenario.records}


def test_the_story_tells_of_every_volume(scenario: Scenario) -> None:
    assert [host.title for host in scenario.of(HostVolume) if f"`{host.short}`" not in STORY] == []


def test_the_story_counts_right(scenario: Scenario) -> None:
    kinds = len({placing.function for placing in scenario.of(Placing)} - {None})
    counted = (
        f"{len(scenario.of(HostVolume))} volumes, {len(scenario.of(Fragment))} pieces doing {kinds} kinds"
        f" of work, {len(scenario.of(Event))} events, {len(scenario.of(Image))} pictures"
    )
    assert counted in " ".join(STORY.split())


@pytest.mark.parametrize(
    ("title", "complete"),
    [
        ("Lower pastedown from an antiphoner", True),
        ("Sewing guard of gathering 4", False),
        ("Patch on the spine", False),
    ],
)
def test_one_planned_removal_is_ready_for_lifting_and_two_are_not(
    scenario: Scenario, access: Access, title: str, complete: bool
) -> None:
    report = check_record(access, _piece(scenario, title))
    assert report.stage == "before-lifting"
    assert report.complete is complete
    assert {missing.later for missing in report.missing} <= {True, False}
    assert complete or any(not missing.later for missing in report.missing)


def test_eleven_pieces_can_be_shared_as_they_stand(scenario: Scenario, access: Access) -> None:
    pieces = scenario.of(Fragment)
    ready = [p.title for p in pieces if check_record(access, p.id, "ready-to-share").complete]
    assert len(ready) == 11
    assert "Limp parchment cover, used twice" in ready


def test_almost_every_piece_and_volume_was_recorded_on_sight(scenario: Scenario, access: Access) -> None:
    records = [*scenario.of(Fragment), *scenario.of(HostVolume)]
    unseen = [r.title for r in records if not check_record(access, r.id, "on-sight").complete]
    assert unseen == [
        "Patch on the spine",
        "Thread in an envelope marked only 'big book'",
    ]


def test_the_scenario_moves_to_the_address_of_the_instance(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GUARDBOOK_BASE", "https://books.example/kept/")
    settings.current.cache_clear()
    try:
        moved = demo_records()
    finally:
        monkeypatch.undo()
        settings.current.cache_clear()
    assert len(moved) > 200
    assert all(record.id.startswith("https://books.example/kept/") for record in moved)


def test_a_broken_file_of_the_scenario_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "01-people.ttl").write_text("<a> <b> ;; .", encoding="utf-8")
    monkeypatch.setattr(settings, "_beside", lambda _name: tmp_path)
    settings.current.cache_clear()
    try:
        with pytest.raises(UnreadableFile, match=r"01-people\.ttl"):
            demo_records()
    finally:
        monkeypatch.undo()
        settings.current.cache_clear()


def _piece(scenario: Scenario, title: str) -> str:
    return next(piece.id for piece in scenario.of(Fragment) if piece.title == title)
