"""Labels go where the stock has them, and what does not go onto a sheet is refused with its reason."""

from __future__ import annotations

import pytest

from guardbook.errors import WrongUse
from guardbook.exports.paper.label_sheet import SHEETS, sheet_called


@pytest.mark.parametrize("name", SHEETS)
def test_the_usual_sheets_fit_their_paper(name: str) -> None:
    assert list(SHEETS[name].faults()) == []


def test_other_stock_is_told_by_its_measures() -> None:
    sheet = sheet_called("a4", columns=3, rows=8, width=70.0, height=37.0, left=0.0, top=0.5, gap_x=0.0)
    assert (sheet.columns, sheet.page) == (3, (210.0, 297.0))


def test_what_is_not_said_stays_as_it_is() -> None:
    assert sheet_called("a4", rows=None, start=None) == SHEETS["a4"]


def test_all_that_is_wrong_with_a_sheet_is_told_at_once() -> None:
    with pytest.raises(WrongUse) as refused:
        sheet_called("a4", columns=5, height=10.0, left=-1.0, start=99)
    assert [fault.where for fault in refused.value.faults] == [
        "labelHeight",
        "left, top, gapX, gapY",
        "columns",
        "start",
    ]


def test_a_sheet_without_columns_has_no_place_to_begin() -> None:
    with pytest.raises(WrongUse, match="1 or more"):
        sheet_called("letter", columns=0, start=1)


def test_paper_that_there_is_not_is_refused_naming_what_there_is() -> None:
    with pytest.raises(WrongUse, match="label, a4, letter"):
        sheet_called("a3")
