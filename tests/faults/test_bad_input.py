"""What people hand in by mistake: each is told in words, with its place and its mend, and nothing is lost."""

from __future__ import annotations

import io
import json
import time
import zipfile
from collections.abc import Sequence
from typing import Any

import pytest
from openpyxl import Workbook

from guardbook.actions.add_files import Added, add_files
from guardbook.catalogue.access import Access
from guardbook.errors import Doubtful, Fault, GuardbookError, InvalidRecord, StaleRevision, UnreadableFile
from guardbook.records.documents import to_document
from tests.intake.files import csv_file, workbook

PREFIX = "@prefix gb: <https://w3id.org/guardbook/ns#> .\n"


def add(access: Access, name: str, data: bytes, **words: Any) -> Added:
    return add_files(access, [(name, data)], who="Anna", what_for="a mistake", **words)


def refused(
    access: Access, name: str, data: bytes, error: type[GuardbookError] = InvalidRecord
) -> tuple[Fault, ...]:
    """Add a file that must be refused, with nothing kept of it; give its faults."""
    before = access.sequence
    with pytest.raises(error) as caught:
        add(access, name, data)
    assert caught.type is error
    assert access.sequence == before
    return caught.value.faults


def in_rows(access: Access, headings: Sequence[str], *rows: Sequence[str]) -> tuple[Fault, ...]:
    return refused(access, "pieces.csv", csv_file(headings, *rows))


def test_a_wrong_check_symbol_is_explained_with_the_likely_identifiers(workshop: Access) -> None:
    identifier = workshop.record(workshop.resolve("V-1")).record.identifier
    symbol = "X" if identifier[-1] != "X" else "Y"
    (fault,) = in_rows(workshop, ["Workshop number", "Host volume"], ["W-2", identifier[:-1] + symbol])
    assert fault.where == "pieces.csv, row 2, column B, Host volume"
    assert f"would end in {identifier[-1]}" in fault.expected
    assert identifier in fault.mend


def test_an_unknown_function_is_named_with_those_that_are_near(workshop: Access) -> None:
    (fault,) = in_rows(
        workshop, ["Workshop number", "Host volume", "Function"], ["W-2", "V-1", "sewing gard"]
    )
    assert fault.where == "pieces.csv, row 2, column C, Function"
    assert "sewing-guard" in fault.mend


@pytest.mark.parametrize("date", ["16th or 17th century", "1984-1Y", "1520-1510", "1510/1505", "1712-02-30"])
def test_a_date_that_is_none_is_named(workshop: Access, date: str) -> None:
    (fault,) = in_rows(workshop, ["Workshop number", "Date made"], ["W-2", date])
    assert (fault.where, fault.found) == ("pieces.csv, row 2, column B, Date made", repr(date))


def test_a_date_that_readers_of_edtf_trip_over_is_kept_as_it_is(workshop: Access) -> None:
    rows = csv_file(["Workshop number", "Date made"], ["W-2", "1985/"], ["W-3", "1984-1X"], ["W-4", "15XX"])
    add(workshop, "pieces.csv", rows)
    kept = [workshop.record(workshop.resolve(f"W-{at}")).record for at in (2, 3, 4)]
    assert [to_document(record)["dateMade"] for record in kept] == ["1985/", "1984-1X", "15XX"]


def test_a_negative_length_is_refused(workshop: Access) -> None:
    (fault,) = in_rows(workshop, ["Workshop number", "Height"], ["W-2", "-4"])
    assert (fault.where, fault.expected) == ("pieces.csv, row 2, column B, Height", "0 or more")


def test_a_strip_of_three_metres_is_asked_about_and_kept_when_the_person_is_sure(workshop: Access) -> None:
    rows = csv_file(["Workshop number", "Width"], ["W-2", "3000"])
    (fault,) = refused(workshop, "pieces.csv", rows, Doubtful)
    assert fault.where == "pieces.csv, row 2, column B, Width"
    assert "millimetres?" in fault.mend
    add(workshop, "pieces.csv", rows, sure=True)
    assert to_document(workshop.record(workshop.resolve("W-2")).record)["width"] == "3000"


def test_a_removal_of_a_piece_that_was_never_placed_is_refused(workshop: Access) -> None:
    headings = ["Workshop number", "Host volume", "Kind of separation"]
    (fault,) = in_rows(workshop, headings, ["W-2", "V-1", "lifted in treatment"])
    assert "was placed in" in fault.expected
    assert "Add the placing first" in fault.mend


def test_a_stale_revision_is_refused_with_both_versions(workshop: Access) -> None:
    body = to_document(workshop.record(workshop.resolve("W-1")).record)
    add(workshop, "pieces.csv", csv_file(["Workshop number", "Note"], ["W-1", "theirs"]))
    with pytest.raises(StaleRevision) as caught:
        add(workshop, "piece.json", json.dumps({**body, "note": "yours", "revision": 1}).encode())
    assert [caught.value.details[side]["note"] for side in ("yours", "theirs")] == ["yours", "theirs"]


def test_a_syntax_error_in_turtle_is_named_by_line_and_column(workshop: Access) -> None:
    text = PREFIX + "<fragment/7K3QM2-J> a gb:Fragment ;\n    gb:height 45.5 45.6 .\n"
    (fault,) = refused(workshop, "piece.ttl", text.encode(), UnreadableFile)
    assert fault.where == "piece.ttl, line 3, column 20"


@pytest.mark.parametrize("opening", ["[", '{"a":'])
def test_ten_megabytes_of_nested_json_are_refused_at_once(workshop: Access, opening: str) -> None:
    levels = 10_000_000 // (len(opening) + 1)
    data = (opening * levels + "1" + ("]" if opening == "[" else "}") * levels).encode()
    started = time.process_time()
    (fault,) = refused(workshop, "piece.json", data, UnreadableFile)
    assert "at most 40 levels" in fault.expected
    assert time.process_time() - started < 20


def test_a_csv_in_latin_1_is_read_and_said_to_be(workshop: Access) -> None:
    rows = csv_file(["Workshop number", "Condition"], ["W-2", "descosit però sencer"], encoding="latin-1")
    added = add(workshop, "pieces.csv", rows)
    assert to_document(added.records[0])["condition"] == "descosit però sencer"
    assert any("'però' in line 2" in note for note in added.notes)


def test_formulas_without_values_and_merged_cells_are_named_by_cell(workshop: Access) -> None:
    rows = [["Workshop number", "Height", "Note"], ["W-2", "=40+5", "x"], ["W-3", "45", "y"]]
    book = workbook({"pieces": rows}, lambda book: book["pieces"].merge_cells("B3:C3"))
    assert [fault.where for fault in refused(workshop, "list.xlsx", book)] == [
        "list.xlsx, sheet pieces, cells B3:C3",
        "list.xlsx, sheet pieces, row 2, column B",
    ]


def test_blank_nodes_are_given_names_and_said_to_be(workshop: Access) -> None:
    feature = "[ gb:featureKind <https://w3id.org/guardbook/terms/feature/fold> ]"
    text = PREFIX + f"<fragment/7K3QM2-J> a gb:Fragment ; gb:features {feature} ."
    added = add(workshop, "piece.ttl", text.encode())
    assert [quad for quad in workshop.quads(added.new[0]) if "_:" in str(quad)] == []
    assert any("fragment/7K3QM2-J#feature-1" in note for note in added.notes)


@pytest.mark.parametrize(
    "statement",
    [
        "<http://elsewhere.example/piece> a gb:Fragment .",
        "<fragment/7K3QM2-J> a gb:Fragment ; gb:keeper <http://elsewhere.example/library> .",
    ],
)
def test_an_address_outside_this_catalogue_is_named(workshop: Access, statement: str) -> None:
    faults = refused(workshop, "piece.ttl", (PREFIX + statement).encode())
    assert any("http://elsewhere.example/" in fault.found for fault in faults)
    assert any("https://guardbook.example/" in fault.expected for fault in faults)


def test_two_records_of_one_file_that_claim_a_number_are_both_named(workshop: Access) -> None:
    both = [{"type": "Fragment", "workshopNumber": "W-5"}, {"type": "HostVolume", "workshopNumber": "w 5"}]
    faults = refused(workshop, "records.json", json.dumps(both).encode())
    assert [fault.where for fault in faults] == [
        "records.json, records[0], workshopNumber",
        "records.json, records[1], workshopNumber",
    ]


def test_a_number_that_another_record_has_is_named_with_its_holder(workshop: Access) -> None:
    claim = {"type": "Fragment", "workshopNumber": "w 1"}
    (fault,) = refused(workshop, "records.json", json.dumps(claim).encode())
    assert workshop.resolve("W-1") in fault.expected
    (fault,) = refused(workshop, "volumes.csv", csv_file(["Workshop number"], ["W-1"]))
    assert fault.where == "volumes.csv, row 2, column A, Workshop number"
    assert workshop.resolve("W-1") in fault.expected


def test_text_that_a_spreadsheet_would_run_is_kept_as_text(workshop: Access) -> None:
    dangerous = '=HYPERLINK("http://elsewhere.example","x")'
    added = add(workshop, "pieces.csv", csv_file(["Workshop number", "Note"], ["W-2", dangerous]))
    assert to_document(added.records[0])["note"] == dangerous


def test_a_workbook_that_unpacks_to_far_more_than_it_weighs_is_refused(workshop: Access) -> None:
    book = Workbook()
    file = io.BytesIO()
    book.save(file)
    with zipfile.ZipFile(file, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/media/image1.png", b"\0" * 501_000_000)
    (fault,) = refused(workshop, "list.xlsx", file.getvalue(), UnreadableFile)
    assert "500 MB" in fault.found


def test_a_file_past_the_limit_is_refused_before_it_is_read(workshop: Access) -> None:
    (fault,) = refused(workshop, "pieces.csv", b"x" * 50_000_001, UnreadableFile)
    assert fault.expected == "at most 50 MB"


def test_a_height_in_two_columns_is_no_height(workshop: Access) -> None:
    faults = in_rows(workshop, ["Workshop number", "Height", "Height x width"], ["W-2", "45", "46 x 12"])
    assert [fault.where for fault in faults] == ["pieces.csv, row 1, column C, Height x width"]
    assert "'Height' is the same" in faults[0].expected
