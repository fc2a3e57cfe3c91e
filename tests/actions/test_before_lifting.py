"""Before a piece is lifted: what is open, what can never be got again, and going ahead with a reason."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.actions.before_lifting import before_lifting, go_ahead
from guardbook.actions.check_record import check_record
from guardbook.actions.where_it_sat import where_it_sat
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import NotAllowed, StaleRevision, WrongUse
from guardbook.records.separation import Separation
from tests.catalogue.shelf import save
from tests.demo.survey import GUARD, PASTEDOWN, PATCH, SURVEY, survey

LIFTED = "separation/Y63FJ9-E"


@pytest.fixture
def bench(demo: Access) -> Iterator[Access]:
    """Give the volume on the bench in a catalogue of its own, to go ahead in."""
    with open_catalogue(None) as opened:
        save(opened.access(), *survey(demo))
        yield opened.access()


def ahead(
    access: Access, name: str, because: str = "The joint is giving way.", when: str = "24.11.2025"
) -> Separation:
    started_from = access.record(access.resolve(name)).revision
    saved = go_ahead(access, name, started_from=started_from, when=when, because=because, who="Mirela")
    record = access.record(saved.iri).record
    assert isinstance(record, Separation)
    return record


def test_what_cannot_be_recorded_later_is_told_before_what_can(demo: Access) -> None:
    gate = before_lifting(demo, PATCH)
    assert len(gate.never_again) > len(gate.still_later) > 0
    lines = gate.words().splitlines()
    assert lines.index("Cannot be recorded later:") < lines.index("Not recorded yet:")


def test_a_piece_leads_to_its_planned_removal(demo: Access) -> None:
    gate = before_lifting(demo, GUARD)
    again = before_lifting(demo, gate.piece.short)
    assert again.removal is not None
    assert again.removal.short == GUARD


def test_measures_of_the_volume_that_change_with_a_removal_are_asked_for_too(demo: Access) -> None:
    focus = before_lifting(demo, GUARD).report.focus
    assert [iri.rsplit("/", 2)[-2] for iri in focus[:3]] == ["fragment", "separation", "host"]


def test_examinations_that_end_are_told_with_the_cautions(demo: Access) -> None:
    gate = before_lifting(demo, PASTEDOWN)
    assert "Transmitted light" in gate.ending[0].words
    assert any("licensed" in caution for caution in gate.cautions)
    assert len(set(gate.cautions)) == len(gate.cautions)


def test_consent_is_told_with_who_gave_it_and_when(demo: Access) -> None:
    given = " ".join(before_lifting(demo, PASTEDOWN).consent)
    assert "Consent given by Town Archive of Quelmarre, 2025-02-10" in given
    assert "decision/VP96S8-T" in given
    assert "No consent is recorded" in before_lifting(demo, GUARD).consent[0]


def test_where_all_is_there_no_reason_is_needed(bench: Access) -> None:
    assert before_lifting(bench, PASTEDOWN).left_open == ()
    record = ahead(bench, PASTEDOWN, because="")
    assert (record.status, record.when, record.went_ahead_because) == ("done", "2025-11-24", None)


def test_going_ahead_keeps_the_reason_and_what_was_left_open(bench: Access) -> None:
    left_open = before_lifting(bench, GUARD).left_open
    record = ahead(bench, GUARD)
    assert record.went_ahead_because == "The joint is giving way."
    assert set(record.not_recorded_before) == set(left_open)
    assert len(record.not_recorded_before) > 20
    told = before_lifting(bench, GUARD)
    assert not told.is_planned
    assert "The joint is giving way." in told.standing()


def test_a_removal_that_went_ahead_is_one_that_was_made(bench: Access) -> None:
    gate = before_lifting(bench, GUARD)
    before = where_it_sat(bench, gate.piece.short).now.state
    ahead(bench, GUARD)
    assert (before, where_it_sat(bench, gate.piece.short).now.state) == ("in-volume", "kept")
    assert check_record(bench, gate.piece.short).stage == "after-lifting"


def test_without_a_reason_nothing_goes_ahead_where_things_are_open(bench: Access) -> None:
    with pytest.raises(WrongUse) as raised:
        ahead(bench, GUARD, because="  ", when="03/04/2025")
    assert [fault.where for fault in raised.value.faults] == ["when", "because"]
    assert "2025-04-03 or 2025-03-04" in str(raised.value)
    assert before_lifting(bench, GUARD).is_planned


@pytest.mark.parametrize("when", ["", "soon", "2025-13-41"])
def test_a_day_that_is_none_is_refused(bench: Access, when: str) -> None:
    with pytest.raises(WrongUse) as raised:
        ahead(bench, GUARD, when=when)
    assert raised.value.faults[0].where == "when"


def test_a_removal_is_not_made_twice(bench: Access) -> None:
    ahead(bench, GUARD)
    with pytest.raises(WrongUse, match="No removal of"):
        ahead(bench, GUARD)


def test_a_removal_made_long_ago_does_not_go_ahead(demo: Access) -> None:
    with pytest.raises(WrongUse, match="No removal of"):
        ahead(demo, LIFTED)


def test_work_saved_meanwhile_is_not_overwritten(bench: Access) -> None:
    ahead(bench, GUARD)
    with pytest.raises(WrongUse):
        go_ahead(bench, GUARD, started_from=1, when="2025-11-24", because="x", who="Mirela")
    with pytest.raises(StaleRevision):
        go_ahead(bench, PASTEDOWN, started_from=7, when="2025-11-24", because="x", who="Mirela")


def test_a_volume_is_not_lifted(demo: Access) -> None:
    with pytest.raises(WrongUse, match="neither a piece nor a removal"):
        before_lifting(demo, SURVEY)


def test_a_piece_without_a_planned_removal_is_told_to_have_none(demo: Access) -> None:
    pieces = [demo.record(iri).record for iri in demo.iris("fragment")]
    gates = [before_lifting(demo, one.short) for one in pieces]
    bare = [gate for gate in gates if gate.removal is None]
    assert bare
    assert all("No removal is planned" in gate.standing() for gate in bare)
    assert all(gate.as_json()["removal"] is None for gate in bare)


def test_the_public_may_not_go_ahead(demo: Access) -> None:
    with open_catalogue(None) as opened:
        save(opened.access(), *survey(demo))
        public = opened.access(Viewer.PUBLIC)
        assert public.has(public.resolve(PASTEDOWN))
        with pytest.raises(NotAllowed):
            ahead(public, PASTEDOWN)
