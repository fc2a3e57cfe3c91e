"""Checking a record that is kept: with its events and images, for the stage that makes sense."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.check_record import check_all, check_record
from guardbook.catalogue.access import Access, Change, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.completeness.stages import STAGES
from guardbook.errors import NotFound, WrongUse
from guardbook.records.base import Record
from tests.catalogue.shelf import iri
from tests.completeness.situations import (
    IN_PLACE,
    KEEPER,
    PLACING,
    SEPARATION,
    STRIP,
    VOLUME,
    everything,
    image,
    made,
    placing,
    position,
    separation,
    strip,
)

OWNER = iri("agent", "a private owner")
HOST = made(
    "host",
    VOLUME,
    title="Ledger",
    owner=OWNER,
    stages=[{"id": "#stage-1", "number": 1, "stageKind": "bound"}],
)
REST = (
    HOST,
    made("institution", KEEPER, name="Town archive", place="Northwick"),
    made("agent", OWNER, name="Amalthea Quillfeather"),
)


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    """Give an empty catalogue in memory."""
    with open_catalogue(None) as opened:
        yield opened


def kept(catalogue: Catalogue, *records: Record) -> Access:
    access = catalogue.access()
    access.save([Change(record, None) for record in (*records, *REST)], who="Rue", what_for="to check it")
    return access


def test_a_piece_is_checked_with_its_placing_separation_and_images(catalogue: Catalogue) -> None:
    access = kept(catalogue, *everything(placing=placing(layerOrder=None), image=image(technique=None)))
    report = check_record(access, STRIP)
    assert set(report.focus) == {STRIP, PLACING, SEPARATION, IN_PLACE}
    assert {(item.record, item.field) for item in report.missing} == {
        (PLACING, "layerOrder"),
        (IN_PLACE, "technique"),
    }


def test_a_planned_separation_asks_for_what_must_be_known_before(catalogue: Catalogue) -> None:
    report = check_record(kept(catalogue, *everything()), STRIP)
    assert (report.stage, report.complete) == ("before-lifting", True)
    assert "planned" in report.because
    assert report.because in report.words()


def test_a_separation_that_took_place_asks_for_what_must_be_known_after(catalogue: Catalogue) -> None:
    report = check_record(kept(catalogue, *everything(separation=separation(status="done"))), STRIP)
    assert report.stage == "after-lifting"
    assert "taken place" in report.because


def test_a_piece_in_its_place_asks_for_the_least(catalogue: Catalogue) -> None:
    report = check_record(kept(catalogue, strip(), placing()), STRIP)
    assert (report.stage, report.complete) == ("on-sight", True)


@pytest.mark.parametrize("stage", STAGES)
def test_whoever_names_a_stage_gets_that_stage(catalogue: Catalogue, stage: str) -> None:
    report = check_record(kept(catalogue, *everything()), STRIP, stage)
    assert (report.stage, report.because) == (stage, "")


@pytest.mark.parametrize("record", [PLACING, SEPARATION])
def test_an_event_is_checked_by_itself_at_the_stage_of_its_piece(catalogue: Catalogue, record: str) -> None:
    report = check_record(kept(catalogue, *everything(strip=strip(condition=None))), record)
    assert (report.focus, report.stage) == ((record,), "before-lifting")
    assert report.complete


def test_a_placing_that_ended_long_ago_is_not_asked_what_nobody_can_know(catalogue: Catalogue) -> None:
    old = separation(status="done", separationKind="separated-long-ago")
    vague = placing(layerOrder=None, positions=[position(x=None)])
    access = kept(catalogue, *everything(separation=old, placing=vague))
    assert check_record(access, PLACING, "before-lifting").complete


def test_a_volume_is_checked_at_the_stage_of_what_is_lifted_from_it(catalogue: Catalogue) -> None:
    report = check_record(kept(catalogue, *everything()), VOLUME)
    assert (report.focus, report.stage) == ((VOLUME,), "before-lifting")
    assert "spineWidth" in {item.field for item in report.missing}


def test_any_spelling_of_an_identifier_or_the_workshop_number_will_do(catalogue: Catalogue) -> None:
    access = kept(catalogue, *everything(strip=strip(workshopNumber="2024/17")))
    names = [STRIP, STRIP.rpartition("/")[2], STRIP.rpartition("/")[2].lower(), "2024/17"]
    assert {check_record(access, name).focus[0] for name in names} == {STRIP}


def test_the_name_of_a_volumes_private_owner_is_found_in_the_note_of_its_piece(catalogue: Catalogue) -> None:
    access = kept(catalogue, *everything(strip=strip(note="From Amalthea Quillfeather's ledger.")))
    report = check_record(access, STRIP, "ready-to-share")
    assert [item.field for item in report.missing if "public field" in item.message] == ["note"]


def test_the_public_is_told_no_more_of_a_gap_than_of_the_record(catalogue: Catalogue) -> None:
    kept(
        catalogue,
        *everything(strip=strip(note="From Amalthea Quillfeather's ledger.", boxLocation="Shelf 4")),
    )
    public = catalogue.access(Viewer.PUBLIC)
    words = check_record(public, STRIP, "ready-to-share").words()
    assert "Quillfeather" not in words
    assert "Shelf 4" not in words


def test_an_unknown_stage_or_record_is_an_error_that_says_so(catalogue: Catalogue) -> None:
    access = kept(catalogue, *everything())
    with pytest.raises(WrongUse, match="before-lifting"):
        check_record(access, STRIP, "before-binding")
    with pytest.raises(NotFound):
        check_record(access, iri("fragment", "never saved"))


def test_checking_all_looks_at_every_record_once(catalogue: Catalogue) -> None:
    access = kept(catalogue, *everything())
    focus = [record for report in check_all(access) for record in report.focus]
    assert sorted(focus) == sorted(access.iris())
