"""What may be saved: a record that fits its shapes, names what is there, and leaves where it was put."""

from collections.abc import Iterator

import pytest

from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import Doubtful, InvalidRecord, StaleRevision
from guardbook.records.base import Record
from tests.catalogue.shelf import WHO, changed, iri, made, placing, strip, volume

PIECE, HOST = strip(), volume()
PUT = placing(PIECE, HOST, stage=HOST.id + "#stage-1", function="tacket")
LIFTED = {"separationKind": "lifted-in-treatment"}


@pytest.fixture
def access() -> Iterator[Access]:
    """Give the workshop's view of an empty catalogue."""
    with open_catalogue(None) as catalogue:
        yield catalogue.access()


def save_all(access: Access, *records: Record, from_revision: int | None = None, sure: bool = False) -> None:
    save_records(
        access, [(record, from_revision) for record in records], who=WHO, what_for="a test", sure=sure
    )


def faults_of(access: Access, *records: Record, from_revision: int | None = None) -> dict[str, str]:
    """Give what is wrong with records, by place: what was found."""
    before = access.sequence
    with pytest.raises(InvalidRecord) as caught:
        save_all(access, *records, from_revision=from_revision)
    assert access.sequence == before
    return {fault.where: fault.found for fault in caught.value.faults}


def separation(host: Record | None, **fields: object) -> Record:
    return made("separation", "lifted", piece=PIECE.id, **({"host": host.id} if host else {}), **fields)


def test_records_that_name_one_another_are_saved_in_one_go_in_any_order(access: Access) -> None:
    save_all(access, separation(HOST, **LIFTED), PUT, HOST, PIECE)
    assert access.about(PIECE.id) == (PUT.id, separation(HOST).id)


def test_a_strip_of_three_metres_is_asked_about_and_kept_when_the_person_is_sure(access: Access) -> None:
    long = strip(height="3000")
    with pytest.raises(Doubtful) as caught:
        save_all(access, long)
    (fault,) = caught.value.faults
    assert fault.doubt
    assert "3000" in fault.found
    assert not access.has(long.id)
    save_all(access, long, sure=True)
    assert access.record(long.id).record == long


def test_being_sure_does_not_save_what_cannot_be(access: Access) -> None:
    with pytest.raises(InvalidRecord):
        save_all(access, strip(height="3000", keeper=iri("institution", "nowhere")), sure=True)


def test_everything_that_is_wrong_is_said_at_once(access: Access) -> None:
    nowhere = iri("institution", "nowhere")
    wrong = strip(
        keeper=nowhere,
        seenBy=iri("agent", "nobody"),
        series=[{"host": iri("host", "gone")}],
        carrierPlaces=[{"carrier": iri("carrier", "none")}],
    )
    found = faults_of(access, wrong, placing(wrong, HOST, stage=HOST.id + "#stage-9"), HOST)
    place = placing(wrong, HOST).short
    assert found[f"{wrong.short} keeper"] == nowhere
    assert found[f"{place} stage"] == HOST.id + "#stage-9"
    assert found.keys() == {
        f"{wrong.short} keeper",
        f"{wrong.short} seenBy",
        f"{wrong.short} series[0].host",
        f"{wrong.short} carrierPlaces[0].carrier",
        f"{place} stage",
    }


def test_what_was_taken_out_is_named_no_more(access: Access) -> None:
    save_all(access, PIECE, HOST)
    access.delete(HOST.id, started_from=1, who=WHO, why="registered twice")
    assert faults_of(access, placing(PIECE, HOST)) == {f"{placing(PIECE, HOST).short} host": HOST.id}


def test_a_stage_that_an_event_leads_to_is_not_left_out(access: Access) -> None:
    save_all(access, PIECE, HOST, PUT)
    without = changed(HOST, stages=())
    assert faults_of(access, without, from_revision=1) == {f"{HOST.short} #stage-1": "no such part any more"}
    save_all(access, without, changed(PUT, stage=None), from_revision=1)
    assert access.verify() == ()


def test_a_stage_that_nothing_names_may_go(access: Access) -> None:
    save_all(access, HOST)
    save_all(access, changed(HOST, stages=()), from_revision=1)
    assert access.record(HOST.id).revision == 2


@pytest.mark.parametrize("kind", ["lifted-in-treatment", "lifted-and-returned", None])
def test_a_piece_is_not_lifted_from_where_it_was_never_placed(access: Access, kind: str | None) -> None:
    said = {"separationKind": kind} if kind else {}
    other = volume("another")
    save_all(access, PIECE, HOST, other, placing(PIECE, other))
    found = faults_of(access, separation(HOST, **said))
    assert found == {f"{separation(HOST).short} host": HOST.id}
    save_all(access, separation(other, **said))


@pytest.mark.parametrize(
    "kind", ["found-loose-with-volume", "found-loose-host-unknown", "separated-long-ago", "lost"]
)
def test_a_piece_found_loose_or_lost_need_never_have_been_seen_in_place(access: Access, kind: str) -> None:
    save_all(access, PIECE, HOST, separation(HOST, separationKind=kind))
    assert access.verify() == ()


def test_a_separation_from_an_unknown_host_needs_no_placing(access: Access) -> None:
    save_all(access, PIECE, separation(None, separationKind="found-loose-host-unknown"))
    assert access.sequence == 2


def test_a_placing_moved_to_another_volume_in_the_same_save_counts_as_it_will_be(access: Access) -> None:
    other = volume("another")
    save_all(access, PIECE, HOST, other, placing(PIECE, HOST))
    moved = changed(placing(PIECE, HOST), host=other.id)
    with pytest.raises(InvalidRecord, match="was placed in"):
        save_records(
            access, [(moved, 1), (separation(HOST, **LIFTED), None)], who=WHO, what_for="a test", sure=False
        )
    save_records(access, [(moved, 1), (separation(other, **LIFTED), None)], who=WHO, what_for="a test")


def test_a_stale_record_of_a_batch_keeps_the_whole_batch_out(access: Access) -> None:
    save_all(access, PIECE)
    save_all(access, changed(PIECE, note="theirs"), from_revision=1)
    with pytest.raises(StaleRevision):
        save_records(access, [(HOST, None), (changed(PIECE, note="mine"), 1)], who=WHO, what_for="a test")
    assert not access.has(HOST.id)
