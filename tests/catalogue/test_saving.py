"""Every save is a revision of its own; nobody overwrites what they have not seen."""

import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings

from guardbook.catalogue.access import Access, Change
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import (
    Gone,
    InvalidRecord,
    NotAllowed,
    NotFound,
    RevisionRequired,
    StaleRevision,
    WrongUse,
)
from guardbook.records.base import Record
from guardbook.records.mapping import canonical, to_quads
from tests.catalogue.shelf import WHO, changed, iri, placing, save, strip, volume
from tests.records import strategies


@given(record=strategies.records())
@hypothesis_settings(max_examples=60)
def test_what_is_saved_is_what_is_read_to_the_last_digit(record: Record) -> None:
    with open_catalogue(None) as catalogue:
        access = catalogue.access()
        save(access, record)
        assert access.record(record.id).record == record
        assert canonical(access.quads(record.id)) == canonical(to_quads(record))


def test_a_measurement_keeps_the_zero_that_was_written(workshop: Access) -> None:
    piece = strip(height="45.50")
    save(workshop, piece)
    literals = [
        str(quad.object) for quad in workshop.quads(piece.id) if quad.predicate.value.endswith("#height")
    ]
    assert literals == ['"45.50"^^<http://www.w3.org/2001/XMLSchema#decimal>']


def test_revisions_are_numbered_for_each_record_and_for_the_whole_ledger(workshop: Access) -> None:
    piece, host = strip(), volume()
    first = save(workshop, piece, host)
    second = save(workshop, changed(piece, note="wormed"), from_revision=1)
    assert [(rev.iri, rev.number, rev.sequence) for rev in (*first, *second)] == [
        (piece.id, 1, 1),
        (host.id, 1, 2),
        (piece.id, 2, 3),
    ]
    assert workshop.sequence == 3
    assert second[0].who == WHO
    assert second[0].when.utcoffset() is not None


def test_a_save_sent_twice_is_kept_once(workshop: Access) -> None:
    piece = strip()
    first = save(workshop, piece)
    assert save(workshop, piece) == first
    newer = changed(piece, note="wormed")
    second = save(workshop, newer, from_revision=1)
    assert save(workshop, newer, from_revision=1) == second
    assert [rev.number for rev in workshop.history(piece.id)] == [1, 2]


def test_a_stale_save_is_refused_and_both_versions_are_shown(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    save(workshop, changed(piece, note="theirs"), from_revision=1)
    with pytest.raises(StaleRevision) as caught:
        save(workshop, changed(piece, note="mine"), from_revision=1)
    details = caught.value.details
    assert (details["yours"]["note"], details["theirs"]["note"], details["current"]) == ("mine", "theirs", 2)
    assert WHO in caught.value.message
    assert workshop.record(piece.id).record.note == "theirs"


def test_a_known_record_is_never_saved_blindly(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    with pytest.raises(RevisionRequired) as caught:
        save(workshop, changed(piece, note="mine"))
    assert caught.value.details["current"] == 1
    assert caught.value.details["theirs"]["title"] == piece.title


def test_a_batch_is_kept_whole_or_not_at_all_and_every_stale_record_is_named(workshop: Access) -> None:
    pieces = [strip(f"piece {number}") for number in range(3)]
    save(workshop, *pieces)
    save(workshop, *(changed(piece, note="theirs") for piece in pieces[:2]), from_revision=1)
    before = workshop.sequence
    with pytest.raises(StaleRevision) as caught:
        save(workshop, *(changed(piece, note="mine") for piece in pieces), from_revision=1)
    assert before == workshop.sequence
    assert {fault.where for fault in caught.value.faults} == {piece.id for piece in pieces[:2]}


def test_one_record_twice_in_a_batch_is_refused(workshop: Access) -> None:
    piece = strip()
    with pytest.raises(InvalidRecord, match=piece.id):
        save(workshop, piece, changed(piece, note="again"))
    assert workshop.sequence == 0


def test_a_record_from_another_catalogue_is_not_taken_for_a_revision_of_ours(workshop: Access) -> None:
    with pytest.raises(NotFound, match="without a revision"):
        save(workshop, strip(), from_revision=4)


def test_what_was_taken_out_says_when_by_whom_and_why(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    tombstone = workshop.delete(piece.id, started_from=1, who=WHO, why="the same piece as another")
    assert tombstone.tombstone
    with pytest.raises(Gone, match="the same piece as another") as caught:
        workshop.record(piece.id)
    assert caught.value.details["who"] == WHO
    assert caught.value.details["revision"] == 2
    assert not workshop.has(piece.id)
    assert list(workshop.iris()) == []
    assert workshop.at_revision(piece.id, 1).record == piece


def test_a_record_is_taken_out_once_however_often_it_is_asked(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    first = workshop.delete(piece.id, started_from=1, who=WHO, why="a mistake")
    assert workshop.delete(piece.id, started_from=1, who=WHO, why="a mistake") == first
    with pytest.raises(Gone):
        workshop.delete(piece.id, started_from=2, who=WHO, why="a mistake")


def test_what_changed_meanwhile_is_not_taken_out(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    save(workshop, changed(piece, note="wormed"), from_revision=1)
    with pytest.raises(StaleRevision) as caught:
        workshop.delete(piece.id, started_from=1, who=WHO, why="a mistake")
    assert caught.value.details["theirs"]["note"] == "wormed"
    assert workshop.has(piece.id)


def test_what_was_taken_out_comes_back_only_on_purpose(workshop: Access) -> None:
    piece = strip()
    save(workshop, piece)
    workshop.delete(piece.id, started_from=1, who=WHO, why="a mistake")
    with pytest.raises(Gone, match="bring it back, save it from revision 2"):
        save(workshop, piece)
    with pytest.raises(StaleRevision):
        save(workshop, piece, from_revision=1)
    assert save(workshop, piece, from_revision=2)[0].number == 3
    assert workshop.record(piece.id).record == piece
    assert workshop.about(piece.id) == ()
    assert workshop.verify() == ()


def test_nothing_is_taken_out_without_a_reason_nor_saved_by_nobody(workshop: Access) -> None:
    piece = strip()
    with pytest.raises(WrongUse, match="who"):
        workshop.save([Change(piece)], who=" ", what_for="")
    save(workshop, piece)
    with pytest.raises(WrongUse, match="why"):
        workshop.delete(piece.id, started_from=1, who=WHO, why=" ")


def test_the_public_changes_nothing_and_looks_behind_nothing(workshop: Access, public: Access) -> None:
    piece = strip()
    save(workshop, piece)
    with pytest.raises(NotAllowed):
        save(public, changed(piece, note="mine"), from_revision=1)
    with pytest.raises(NotAllowed):
        public.delete(piece.id, started_from=1, who=WHO, why="no reason")
    with pytest.raises(NotAllowed):
        public.verify()
    with pytest.raises(NotAllowed):
        public.rebuild()
    assert workshop.sequence == 1


def test_what_never_was_is_not_found_and_near_ones_are_named(workshop: Access) -> None:
    save(workshop, strip())
    known = iri("fragment", "strip")
    mistyped = known.replace(known[-8], "Z", 1)
    with pytest.raises(NotFound, match=known[-8:]):
        workshop.record(mistyped)
    with pytest.raises(NotFound):
        workshop.history(mistyped)
    with pytest.raises(NotFound):
        workshop.delete(mistyped, started_from=1, who=WHO, why="a mistake")


def test_records_are_listed_by_kind_in_the_order_in_which_they_came(workshop: Access) -> None:
    first, second, host = strip("b"), strip("a"), volume()
    save(workshop, first, host, second)
    save(workshop, changed(first, note="wormed"), from_revision=1)
    assert list(workshop.iris("fragment")) == [first.id, second.id]
    assert list(workshop.iris()) == [first.id, host.id, second.id]


def test_a_record_knows_what_names_it_and_by_which_word(workshop: Access) -> None:
    piece, host = strip(), volume()
    put = placing(piece, host, stage=host.id + "#stage-1")
    image = strip("unrelated")
    save(workshop, piece, host, put, image)
    assert workshop.about(piece.id) == (put.id,)
    assert workshop.about(host.id) == (put.id,)
    assert workshop.linked(host.id, "host") == (put.id,)
    assert workshop.linked(host.id, "piece") == ()
    assert workshop.referring([host.id + "#stage-1"]) == (put.id,)
    workshop.delete(put.id, started_from=1, who=WHO, why="a mistake")
    assert workshop.about(piece.id) == ()
