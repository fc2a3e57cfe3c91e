"""Files of records, added in one go or not at all."""

from __future__ import annotations

import json
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

import pytest

from guardbook.actions.add_files import Added, add_files
from guardbook.catalogue.access import Access
from guardbook.errors import (
    Doubtful,
    InvalidRecord,
    NotAllowed,
    RevisionRequired,
    StaleRevision,
    UnreadableFile,
    WrongUse,
)
from guardbook.records.documents import to_document
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from tests.intake.files import csv_file, workbook

PIECES = [
    ["Workshop number", "Height x width", "Material", "Host volume", "Placing: Leads to stage", "Function",
     "Sewing hole", "Position: x", "Position: y", "Plane", "Separation: Date", "Kind of separation",
     "Separation: By whom", "Thickness"],
    ["W-1", "123 x 45,5 mm", "pergamí", "V-1", "bound", "sewing guard",
     "x 30: 12 48,5 97", "-5", "10", "cover inside", "4.3.2024", "lifted in treatment",
     "Anna Puig", "0,3"],
    ["W-2", "12 cm x 4 cm", "paper", "V-1", "1", "spine lining", *[""] * 7, "[not found]"],
]  # fmt: skip
VOLUMES = [
    ["Workshop number", "Title", "Stages", "Sewing stations", "Kept by"],
    ["V-1", "A book of hours", "1 bound 1510~; 2 as received 2024", "12 48 97 150", "Library of Vallmar"],
]
PEOPLE = [["Name", "May be named in public"], ["Anna Puig", "yes"]]
INSTITUTIONS = [["Name", "Place"], ["Library of Vallmar", "Vallmar"]]


def add(access: Access, *files: tuple[str, bytes], **words: Any) -> Added:
    return add_files(access, files, who="Anna", what_for="a test", **words)


def sheet(name: str, rows: Sequence[Sequence[str]]) -> tuple[str, bytes]:
    return f"{name}.csv", csv_file(*rows)


def document(name: str, content: Any) -> tuple[str, bytes]:
    return name, json.dumps(content).encode()


@pytest.fixture
def started(workshop: Access) -> Access:
    """Give a catalogue with the library, its volume and two pieces."""
    files = (sheet("pieces", PIECES), sheet("volumes", VOLUMES), sheet("people", PEOPLE))
    added = add(workshop, *files, sheet("institutions", INSTITUTIONS))
    assert len(added.new) == 8
    return workshop


def the(access: Access, number: str) -> Any:
    return access.record(access.resolve(number)).record


def events_of(access: Access, number: str) -> dict[str, Any]:
    iris = access.linked(access.resolve(number), "piece")
    return {access.record(iri).record.kind: access.record(iri).record for iri in iris}


def test_rows_of_several_files_find_one_another_in_any_order(started: Access) -> None:
    piece, volume, events = the(started, "W-1"), the(started, "V-1"), events_of(started, "W-1")
    assert isinstance(piece, Fragment)
    assert isinstance(volume, HostVolume)
    placing, separation = events["placing"], events["separation"]
    assert isinstance(placing, Placing)
    assert isinstance(separation, Separation)
    assert (piece.height, piece.width, piece.material) == (Decimal(123), Decimal("45.5"), "parchment")
    assert [(hole.x, hole.y, hole.in_series) for hole in piece.features] == [
        (Decimal(30), Decimal(y), "#series-1") for y in ("12", "48.5", "97")
    ]
    assert (placing.host, placing.stage) == (volume.id, volume.id + "#stage-1")
    assert [(position.x, position.plane) for position in placing.positions] == [(Decimal(-5), "cover-inside")]
    assert (separation.host, separation.when) == (volume.id, "2024-03-04")
    assert [started.record(iri).record.display_title for iri in separation.by]
    assert [answer.asked for answer in the(started, "W-2").answers] == ["thickness"]


def test_one_workbook_holds_them_all(workshop: Access) -> None:
    sheets = {"pieces": PIECES, "volumes": VOLUMES, "people": PEOPLE, "institutions": INSTITUTIONS}
    added = add(workshop, ("all.xlsx", workbook(sheets)))
    assert (len(added.new), len(added.revisions)) == (8, 8)


def test_the_same_files_again_change_nothing(started: Access) -> None:
    before = started.sequence
    files = (sheet("pieces", PIECES), sheet("volumes", VOLUMES), sheet("people", PEOPLE))
    added = add(started, *files, sheet("institutions", INSTITUTIONS))
    assert (added.new, added.changed, len(added.unchanged)) == ((), (), 8)
    assert started.sequence == before


def test_a_row_changes_what_it_says_and_leaves_the_rest(started: Access) -> None:
    added = add(started, sheet("pieces", [["Workshop number", "Note"], ["w 1", "seen again"]]))
    assert (added.changed, added.new) == ((started.resolve("W-1"),), ())
    assert (the(started, "W-1").note, the(started, "W-1").material) == ("seen again", "parchment")


def test_a_record_is_found_by_its_identifier_in_any_spelling(started: Access) -> None:
    spelled = the(started, "W-1").identifier.replace("-", " ").lower()
    added = add(started, sheet("pieces", [["Identifier", "Note"], [spelled, "seen again"]]))
    assert added.changed == (started.resolve("W-1"),)


def test_an_identifier_written_on_an_envelope_beforehand_is_given_to_the_new_piece(workshop: Access) -> None:
    add(workshop, sheet("pieces", [["Identifier", "Material"], ["7K3QM2-J", "paper"]]))
    assert the(workshop, "7K3QM2-J").material == "paper"


def test_a_piece_in_two_volumes_is_one_piece_with_two_placings(started: Access) -> None:
    rows = [
        ["Workshop number", "Host volume", "Function"],
        ["W-1", "V-2", "flap"],
        ["W-1", "V-3", "pastedown"],
    ]
    volumes = [["Workshop number"], ["V-2"], ["V-3"]]
    added = add(started, sheet("pieces", rows), sheet("volumes", volumes))
    assert len(added.new) == 4
    assert len(started.linked(started.resolve("W-1"), "piece")) == 4


def test_the_placing_of_a_piece_in_a_volume_is_known_again(started: Access) -> None:
    rows = [["Workshop number", "Host volume", "Fixing"], ["W-1", "V-1", "adhered"]]
    added = add(started, sheet("pieces", rows))
    assert (added.new, added.changed) == ((), (events_of(started, "W-1")["placing"].id,))
    assert events_of(started, "W-1")["placing"].function == "sewing-guard"


def test_a_row_that_names_no_record_is_said_to_be_new_each_time(workshop: Access) -> None:
    rows = sheet("pieces", [["Material"], ["paper"]])
    assert add(workshop, rows).new != add(workshop, rows).new
    assert "new records each time they are added: pieces.csv, row 2" in " ".join(add(workshop, rows).notes)


def test_two_rows_that_say_different_things_of_one_piece_are_named(started: Access) -> None:
    rows = [["Workshop number", "Material"], ["W-9", "paper"], ["W-9", "wood"]]
    with pytest.raises(InvalidRecord) as caught:
        add(started, sheet("pieces", rows))
    (fault,) = caught.value.faults
    assert fault.where == "pieces.csv, row 3, column B, Material"
    assert "as in pieces.csv, row 2, column B, Material" in fault.expected


@pytest.mark.parametrize("written", ["bound", "1", "V-1 # 1", "stage-1"])
def test_a_stage_is_found_by_number_kind_or_name(started: Access, written: str) -> None:
    rows = [["Workshop number", "Host volume", "Placing: Leads to stage"], ["W-3", "V-1", written]]
    add(started, sheet("pieces", rows))
    assert events_of(started, "W-3")["placing"].stage == started.resolve("V-1") + "#stage-1"


def test_a_stage_that_the_volume_never_had_is_named_with_those_it_had(started: Access) -> None:
    rows = [["Workshop number", "Host volume", "Placing: Leads to stage"], ["W-3", "V-1", "rebacked"]]
    (fault,) = add(started, sheet("pieces", rows), dry_run=True).faults
    assert fault.where == "pieces.csv, row 2, column C, Placing: Leads to stage"
    assert "1 bound, 2 as-received" in fault.mend


def test_every_fault_of_every_file_is_in_one_list_by_row_and_column(started: Access) -> None:
    pieces = [
        ["Workshop number", "Height", "Material", "Host volume", "Kept by"],
        ["W-3", "tall", "papr", "V-7", "Library of Nowhere"],
        ["W-4", "3000", "paper", "V-1", "V-1"],
    ]
    other = document("more.json", {"type": "Fragment", "heigth": 1})
    added = add(started, sheet("pieces", pieces), other, dry_run=True)
    assert [(fault.where, fault.doubt) for fault in added.faults] == [
        ("more.json, heigth", False),
        ("pieces.csv, row 2, column B, Height", False),
        ("pieces.csv, row 2, column C, Material", False),
        ("pieces.csv, row 2, column D, Host volume", False),
        ("pieces.csv, row 2, column E, Kept by", False),
        ("pieces.csv, row 3, column B, Height", True),
        ("pieces.csv, row 3, column E, Kept by", False),
    ]
    assert added.revisions == ()


def test_a_dry_run_saves_nothing_and_says_what_would_be(workshop: Access) -> None:
    added = add(workshop, sheet("volumes", VOLUMES), sheet("institutions", INSTITUTIONS), dry_run=True)
    assert (len(added.new), added.faults, workshop.sequence) == (2, (), 0)


def test_one_fault_keeps_everything_out(workshop: Access) -> None:
    with pytest.raises(InvalidRecord):
        add(workshop, sheet("pieces", [["Workshop number", "Height"], ["W-1", "45"], ["W-2", "tall"]]))
    assert workshop.sequence == 0


def test_what_is_doubtful_is_asked_about_and_taken_as_said_when_sure(workshop: Access) -> None:
    rows = sheet("pieces", [["Workshop number", "Date made", "Height"], ["W-1", "03/04/1712", "12.345"]])
    with pytest.raises(Doubtful) as caught:
        add(workshop, rows)
    assert [fault.doubt for fault in caught.value.faults] == [True, True]
    add(workshop, rows, sure=True)
    assert (the(workshop, "W-1").date_made, the(workshop, "W-1").height) == ("1712-04-03", Decimal("12.345"))


def test_a_whole_record_replaces_the_revision_it_started_from(started: Access) -> None:
    body = {**to_document(the(started, "W-1")), "note": "another"}
    with pytest.raises(RevisionRequired):
        add(started, document("piece.json", body))
    with pytest.raises(StaleRevision):
        add(started, document("piece.json", {**body, "revision": 7}))
    add(started, document("piece.json", {**body, "revision": 1}))
    added = add(started, document("piece.json", {**body, "note": "a third"}), revision=2)
    assert added.changed == (the(started, "W-1").id,)


def test_a_whole_record_that_says_nothing_new_needs_no_revision(started: Access) -> None:
    added = add(started, document("piece.json", to_document(the(started, "W-1"))))
    assert (len(added.unchanged), added.revisions) == (1, ())


def test_a_row_may_name_the_revision_it_started_from(started: Access) -> None:
    rows = [["Workshop number", "Note", "Revision"], ["W-1", "another", "7"]]
    with pytest.raises(StaleRevision):
        add(started, sheet("pieces", rows))
    (fault,) = add(started, sheet("pieces", rows), dry_run=True).faults
    assert fault.where == "pieces.csv, row 2, column C, Revision"


def test_a_record_that_stands_in_two_files_is_named(started: Access) -> None:
    body = to_document(the(started, "W-1"))
    files = (document("a.json", {**body, "note": "a"}), document("b.json", {**body, "note": "b"}))
    faults = add(started, *files, dry_run=True).faults
    assert [fault.where for fault in faults] == ["b.json", "a.json"]


def test_people_with_one_name_are_asked_to_be_told_apart(workshop: Access) -> None:
    twins = [{"type": "Agent", "name": "Anna Puig"}, {"type": "Agent", "name": "anna  puig"}]
    rows = [["Workshop number", "Seen by"], ["W-1", "Anna Puig"]]
    faults = add(workshop, document("people.json", twins), sheet("pieces", rows), dry_run=True).faults
    assert "It may be" in str(faults[0])


def test_a_removal_of_a_piece_that_was_never_placed_there_is_named_by_its_cell(started: Access) -> None:
    rows = [["Workshop number", "Host volume", "Kind of separation"], ["W-9", "V-1", "lifted in treatment"]]
    (fault,) = add(started, sheet("pieces", rows), dry_run=True).faults
    assert fault.where == "pieces.csv, row 2, column B, Host volume"


def test_a_record_that_is_not_right_yet_is_not_called_missing_too(started: Access) -> None:
    rows = [["Workshop number", "In the carrier: x", "Host", "Function"], ["W-9", "5", "V-1", "flap"]]
    piece = {"id": "fragment/7K3QM2-J", "type": "Fragment", "height": "tall"}
    placing = {"type": "Placing", "piece": "fragment/7K3QM2-J", "host": the(started, "V-1").id}
    added = add(started, sheet("pieces", rows), document("more.json", [piece, placing]), dry_run=True)
    assert [fault.where for fault in added.faults] == [
        "more.json, records[0].height",
        "pieces.csv, row 2, column B, In the carrier: x, carrierPlaces[0].carrier",
    ]


def test_files_that_cannot_be_read_are_all_named(workshop: Access) -> None:
    broken = (("a.ttl", b"<a> <b> ."), ("b.json", b"{"))
    with pytest.raises(UnreadableFile) as caught:
        add(workshop, *broken)
    assert [fault.where.partition(",")[0] for fault in caught.value.faults] == ["a.ttl", "b.json"]
    faults = add(workshop, broken[0], sheet("volumes", [["Workshop number"], ["V-1"]]), dry_run=True).faults
    assert [fault.where for fault in faults] == ["a.ttl, line 1, column 9"]


@pytest.mark.parametrize(
    ("files", "words", "says"),
    [
        ((), {}, "Name a file"),
        ((("piece.doc", b"x"),), {}, "not known here"),
        ((("x.csv", b"a\nb\n"),), {"sheet_kind": "ships"}, "no kind of sheet"),
        ((("x.csv", b"Note\nb\n"),), {"revision": 1}, "one record"),
    ],
)
def test_a_request_that_makes_no_sense_is_refused(
    workshop: Access, files: Any, words: dict[str, Any], says: str
) -> None:
    with pytest.raises(WrongUse, match=says):
        add(workshop, *files, **words)


def test_the_public_may_add_nothing(public: Access) -> None:
    with pytest.raises(NotAllowed):
        add(public, sheet("volumes", [["Workshop number"], ["V-1"]]))
