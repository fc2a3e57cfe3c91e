"""What stands in a cell, and what it means under its heading."""

from __future__ import annotations

import datetime as dt

import pytest

from guardbook.intake.drafts import Mention, SameRow, StageMention
from guardbook.intake.read import read_file
from tests.intake.files import places, read_rows, row_of, workbook


def test_a_piece_its_place_and_its_removal_come_from_one_row() -> None:
    intake = read_rows(
        [
            "Workshop number",
            "Height x width",
            "Host volume",
            "Function",
            "Separation: Date",
            "Method",
        ],
        ["W-1", "123 x 45,5 mm", "V-1", "sewing guard", "4.3.2024", "dry mechanical, humidity"],
    )
    fragment, placing, separation = (row_of(intake, kind) for kind in ("fragment", "placing", "separation"))
    assert fragment.values == {"workshopNumber": "W-1", "height": "123", "width": "45.5"}
    assert placing.values["host"] == separation.values["host"] == Mention("V-1")
    assert separation.values["when"] == "2024-03-04"
    assert separation.values["methods"] == ["dry-mechanical", "humidity"]
    assert separation.values["piece"] == SameRow("fragment")
    assert intake.faults == ()


@pytest.mark.parametrize(
    ("heading", "text", "value"),
    [
        ("Height", "45,50", "45.50"),
        ("Height", "12 cm", "120"),
        ("Lines", "31", 31),
        ("Material", "pergamí", "parchment"),
        ("Material", "Pergament", "parchment"),
        ("material", "parchment", "parchment"),
        ("Date made", "c. 1150", "1150~"),
        ("Language of the text", "la, fr", ["la", "fr"]),
        ("Kept by", "Library of Vallmar", Mention("Library of Vallmar")),
        ("Note", "=SUM(A1:A9)", "=SUM(A1:A9)"),
        ("Note", "@home", "@home"),
        ("Note", "'=SUM(A1:A9)", "=SUM(A1:A9)"),
        ("Note", "'tis torn", "'tis torn"),
        ("First legible words", "-bus et cetera", "-bus et cetera"),
    ],
)
def test_a_cell_is_read_as_its_column_asks(heading: str, text: str, value: object) -> None:
    intake = read_rows(["Workshop number", heading], ["W-1", text])
    assert intake.faults == ()
    assert list(row_of(intake).values.values())[1] == value


@pytest.mark.parametrize(
    ("heading", "text", "value"),
    [
        ("Position: Mirrored", "sí", True),
        ("Position: Mirrored", "no", False),
        ("Position: Rotation", "90°", "90"),
        ("Spine panel", "2", 2),
    ],
)
def test_a_position_is_spread_over_columns(heading: str, text: str, value: object) -> None:
    placing = row_of(read_rows(["Workshop number", heading], ["W-1", text]), "placing")
    assert list(placing.parts["positions"].values()) == [value]


def test_a_stage_is_kept_as_it_was_written_until_the_volume_is_known() -> None:
    placing = row_of(read_rows(["Host", "Placing: Leads to stage"], ["V-1", "bound"]), "placing")
    assert placing.values["stage"] == StageMention("bound")


@pytest.mark.parametrize(
    ("heading", "text", "expected"),
    [
        ("Material", "parchmint", "Near terms: parchment"),
        ("Height", "tall", "one length"),
        ("Lines", "12.5", "whole number"),
        ("Date made", "long ago", "EDTF"),
        ("Position: Mirrored", "perhaps", "yes or no"),
        ("Height x width", "12", "two or three lengths"),
        ("Height x width", "1 x 2 x 3", "2 lengths"),
    ],
)
def test_a_cell_that_cannot_be_read_is_named_with_what_was_expected(
    heading: str, text: str, expected: str
) -> None:
    intake = read_rows(["Workshop number", heading], ["W-1", text])
    assert places(intake) == [f"row 2, column B, {heading}"]
    assert expected in str(intake.faults[0])
    assert text in intake.faults[0].found


@pytest.mark.parametrize(
    ("heading", "text", "taken", "other"),
    [
        ("Height", "12.345", "12.345 mm", "12345 mm"),
        ("Height x width", "1,234 x 5", "1.234 mm", "1234 mm"),
        ("Date made", "03/04/1712", "1712-04-03", "1712-03-04"),
        ("Date made", "1510-25", "1510/1525", "1510-25"),
        ("Lines", "1.200", "1200", "1.200"),
        ("Sewing hole", "12,5", "12.5", "12 and 5"),
    ],
)
def test_a_cell_with_two_readings_is_asked_about(heading: str, text: str, taken: str, other: str) -> None:
    (fault,) = read_rows(["Workshop number", heading], ["W-1", text]).faults
    assert fault.doubt
    assert (taken in fault.expected, other in fault.expected) == (True, True)
    assert f"then it is {taken}" in fault.mend


def test_looked_for_and_not_found_is_an_answer() -> None:
    draft = row_of(
        read_rows(["Workshop number", "Thickness", "Watermark"], ["W-1", "not found", "[cannot be known]"])
    )
    assert draft.answers == {"thickness": "looked-for-not-found", "watermark": "cannot-be-known"}


def test_a_dash_alone_says_nothing() -> None:
    assert row_of(read_rows(["Workshop number", "Note"], ["W-1", "–"])).values == {"workshopNumber": "W-1"}


def test_a_host_named_beside_a_removal_alone_makes_no_placing() -> None:
    intake = read_rows(
        ["Workshop number", "Host", "Kind of separation"], ["W-1", "V-1", "found loose with its volume"]
    )
    assert [getattr(draft, "kind", "") for draft in intake.drafts] == ["fragment", "separation"]
    assert row_of(intake, "separation").values["host"] == Mention("V-1")


def test_numbers_days_and_truth_values_of_a_spreadsheet_have_one_reading() -> None:
    rows = [
        ["Workshop number", "Height", "Separation: Date", "Position: Mirrored", "Lines", "Shelfmark"],
        ["W-1", 12.345, dt.datetime(2024, 3, 4, 9, 30), True, 31, 17],  # noqa: DTZ001 - Excel knows no time zone
    ]
    intake = read_file(workbook({"pieces": rows}), "list.xlsx")
    fragment = row_of(intake)
    assert [fault.doubt for fault in intake.faults] == []
    assert (fragment.values["height"], fragment.values["lines"], fragment.values["shelfmark"]) == (
        "12.345",
        31,
        "17",
    )
    assert row_of(intake, "separation").values["when"] == "2024-03-04"
    assert row_of(intake, "placing").parts["positions"] == {"mirrored": True}


def test_a_number_that_the_spreadsheet_made_a_day_of_is_named() -> None:
    day = dt.datetime(2024, 4, 3)  # noqa: DTZ001 - Excel knows no time zone
    rows: list[list[object]] = [["Workshop number", "Height"], ["W-1", day]]
    intake = read_file(workbook({"pieces": rows}), "list.xlsx")
    assert "made a day of it" in str(intake.faults[0])


def test_a_broken_number_in_a_spreadsheet_is_no_count() -> None:
    intake = read_file(workbook({"pieces": [["Workshop number", "Lines"], ["W-1", 1.234]]}), "list.xlsx")
    assert "whole number" in str(intake.faults[0])
