"""Empty spreadsheets, filled in and read back."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from guardbook.intake.columns import Column, Holds, columns_of
from guardbook.intake.drafts import Intake, RowDraft
from guardbook.intake.read import read_file
from guardbook.intake.template import template
from guardbook.intake.words import in_language, sheet_kinds, words
from guardbook.records.terms import all_concepts, concept
from guardbook.wording import LANGUAGES

# what a person may write in a column of each kind, where it is the same in every language
WRITTEN = {
    Holds.IDENTIFIER: "7K3QM2-J",
    Holds.REVISION: "2",
    Holds.TEXT: "-bus omnia vincit",
    Holds.LENGTH: "45,5",
    Holds.ANGLE: "90°",
    Holds.NUMBER: "0,98",
    Holds.COUNT: "31",
    Holds.DATE: "1510~",
    Holds.RECORD: "V-1",
    Holds.STAGE: "2",
    Holds.HOLES: "x 30: 12 48,5",
    Holds.STATIONS: "12; 48; 97",
    Holds.GATHERINGS: "12 x 8",
}
each_language = pytest.mark.parametrize("language", LANGUAGES)
each_kind = pytest.mark.parametrize("kind", sheet_kinds())


def sample(column: Column, language: str) -> str:
    """Give what a person of a language may write in a column."""
    match column.holds:
        case Holds.TERM:
            slug = min(all_concepts()[column.scheme])
            return concept(column.scheme, slug).label(language)
        case Holds.FLAG:
            return {"ca": "sí", "es": "sí", "fr": "oui", "de": "ja", "it": "sì"}.get(language, "yes")
        case Holds.STAGES:
            kinds = [concept("stage-kind", slug).label(language) for slug in ("bound", "as-received")]
            return f"1 {kinds[0]} 1510~; 2 {kinds[1]} 2024"
        case _:
            return WRITTEN[column.holds]


def filled_csv(language: str, kind: str) -> bytes:
    empty = template("csv", language, kind).decode("utf-8-sig")
    text = io.StringIO(empty, newline="")
    text.seek(0, io.SEEK_END)
    row = [sample(column, language) for column in columns_of(kind)]
    csv.writer(text, delimiter="," if language == "en" else ";").writerow(row)
    return text.getvalue().encode("utf-8-sig")


def filled_xlsx(language: str, kind: str) -> bytes:
    book = load_workbook(io.BytesIO(template("xlsx", language, kind)))
    book.worksheets[0].append([sample(column, language) for column in columns_of(kind)])
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def said(intake: Intake) -> list[tuple[Any, ...]]:
    """Give all that was read, without where it stood."""
    assert [str(fault) for fault in intake.faults] == []
    drafts = [draft for draft in intake.drafts if isinstance(draft, RowDraft)]
    return [
        (draft.kind, draft.values, draft.parts, draft.lists, draft.answers, draft.revision)
        for draft in drafts
    ]


@each_language
@each_kind
def test_a_template_filled_in_any_language_says_the_same(kind: str, language: str) -> None:
    in_english = said(read_file(filled_csv("en", kind), "list.csv", sheet_kind=kind))
    assert said(read_file(filled_csv(language, kind), "list.csv", sheet_kind=kind)) == in_english
    assert said(read_file(filled_xlsx(language, kind), "list.xlsx")) == in_english


@each_kind
def test_every_column_of_a_template_ends_in_a_record(kind: str) -> None:
    intake = read_file(filled_csv("en", kind), "list.csv", sheet_kind=kind)
    cells = [
        (draft.kind, name) for draft in intake.drafts if isinstance(draft, RowDraft) for name in draft.cells
    ]
    columns = {(column.kind, column.name) for column in columns_of(kind)}
    assert columns <= {*cells}


@each_language
def test_a_workbook_opens_on_the_sheet_to_fill_in_with_an_explanation_behind(language: str) -> None:
    book = load_workbook(io.BytesIO(template("xlsx", language)))
    sheet = book.worksheets[0]
    assert book.sheetnames == [
        in_language("sheets", "pieces", language),
        in_language("words", "guide", language),
        "# terms",
    ]
    assert sheet.freeze_panes == "A2"
    guide = book.worksheets[1]
    assert [row[0].value for row in guide.iter_rows(min_row=2)] == [cell.value for cell in sheet[1]]
    assert all(row[1].value for row in guide.iter_rows(min_row=2))


def test_a_column_of_terms_offers_all_of_them_in_the_language() -> None:
    book = load_workbook(io.BytesIO(template("xlsx", "ca")))
    names = [column.name for column in columns_of("pieces")]
    letter = get_column_letter(names.index("material") + 1)
    choices = [
        choice.formula1
        for choice in book.worksheets[0].data_validations.dataValidation
        if f"{letter}2:{letter}5000" in str(choice.sqref)
    ]
    sheet, _, area = choices[0].rpartition("!")
    offered = [row[0].value for row in book[sheet.strip("'")][area.replace("$", "")]]
    assert sorted(offered) == sorted(term.label("ca") for term in all_concepts()["material"].values())


def test_columns_that_are_seldom_needed_are_folded_away() -> None:
    sheet = load_workbook(io.BytesIO(template("xlsx", "en"))).worksheets[0]
    names = [f"{column.kind}.{column.name}" for column in columns_of("pieces")]
    folded = [width for width in sheet.column_dimensions.values() if width.hidden]
    hidden = {names[at - 1] for width in folded for at in range(width.min or 0, (width.max or 0) + 1)}
    assert {"fragment.valuation", "fragment.revision", "fragment.chainLines"} <= hidden
    assert not {"fragment.workshopNumber", "fragment.height", "placing.host", "separation.methods"} & hidden


def test_yes_and_no_are_known_in_every_language() -> None:
    assert {"yes", "sí", "oui", "ja", "sì"} <= set(words()["yes"]["words"])
    assert not set(words()["yes"]["words"]) & set(words()["no"]["words"])
