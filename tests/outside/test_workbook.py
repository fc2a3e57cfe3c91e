"""The workbook of pieces read by programs that others wrote, to the values that the CSV has.

Sources: PyPI `python-calamine` (a reader in Rust), pandas, and LibreOffice Calc, which turns it into CSV of
its own. The CSV is read by the last two as well.
"""

from __future__ import annotations

import csv
import io
import subprocess
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from pathlib import Path

import pandas as pd
import pytest
from python_calamine import CalamineWorkbook

from guardbook.actions.export_records import export_records
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.exports import table
from guardbook.exports.xlsx import write_xlsx
from guardbook.records import terms
from tests.catalogue.shelf import strip
from tests.exports.citing import HARD_TITLES

# comma, quotation mark, UTF-8, from the first row; cells as they are shown
_CSV_OF_LIBREOFFICE = "csv:Text - txt - csv (StarCalc):44,34,76,1"
_HARD = (*(title for title in HARD_TITLES if "\n" not in title), "_x0041_ as it stands")


def hard_workbook() -> bytes:
    output = io.BytesIO()
    write_xlsx([strip(f"piece {at}", title=title) for at, title in enumerate(_HARD)], output)
    return output.getvalue()


@pytest.fixture(scope="module")
def demo_tables() -> dict[str, bytes]:
    """Give the pieces of the scenario in both forms."""
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        tables = {}
        for form in ("csv", "xlsx"):
            output = io.BytesIO()
            export_records(catalogue.access(), None, form, output)
            tables[form] = output.getvalue()
    return tables


def by_calamine(data: bytes) -> list[list[str]]:
    sheet = CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_index(0)
    return [[str(value) for value in row] for row in sheet.to_python()]


def by_libreoffice(program: Path, data: bytes, folder: Path, name: str = "pieces.xlsx") -> list[list[str]]:
    (folder / name).write_bytes(data)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    words = ["--headless", "--convert-to", _CSV_OF_LIBREOFFICE, "--outdir", "read"]
    if name.endswith(".csv"):
        words.append("--infilter=Text - txt - csv (StarCalc):44,34,76,1")
    subprocess.run([str(program), profile, *words, name], cwd=folder, capture_output=True, check=True)
    with next((folder / "read").glob("*.csv")).open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def of_csv(tables: dict[str, bytes]) -> list[list[str]]:
    return list(csv.reader(io.StringIO(tables["csv"].decode("utf-8-sig"))))


def told_alike(rows: list[list[str]]) -> list[list[str]]:
    """Give the columns that the CSV has too, terms by the slugs that stand there."""
    kept = [at for at, heading in enumerate(rows[0]) if not heading.startswith("# ")]
    schemes = [column.scheme for column in table.columns()]
    body = [[_slugs(row[at], scheme) for at, scheme in zip(kept, schemes, strict=True)] for row in rows[1:]]
    return [[rows[0][at] for at in kept], *body]


def _slugs(text: str, scheme: str) -> str:
    if not scheme or not text:
        return text
    return "; ".join(str(terms.slug_for(scheme, label)) for label in text.split("; "))


def test_a_reader_in_rust_finds_the_measurements_of_the_csv(demo_tables: dict[str, bytes]) -> None:
    rows, wanted = told_alike(by_calamine(demo_tables["xlsx"])), of_csv(demo_tables)
    assert rows[0] == wanted[0]
    at = rows[0].index("Height (mm)")
    heights = [row[at] and float(row[at]) for row in rows[1:]]
    assert heights == [row[at] and float(row[at]) for row in wanted[1:]]
    assert any(heights)
    assert [row[0] for row in rows] == [row[0] for row in wanted]


def test_libreoffice_shows_every_number_text_and_address_as_the_csv_has_it(
    demo_tables: dict[str, bytes], needs: Callable[[str], Path], tmp_path: Path
) -> None:
    rows = told_alike(by_libreoffice(needs("libreoffice"), demo_tables["xlsx"], tmp_path))
    assert rows == of_csv(demo_tables)


def test_hard_texts_come_back_from_a_reader_in_rust() -> None:
    rows = by_calamine(hard_workbook())
    assert [row[rows[0].index("Title")] for row in rows[1:]] == list(_HARD)


def test_hard_texts_come_back_from_libreoffice(needs: Callable[[str], Path], tmp_path: Path) -> None:
    rows = by_libreoffice(needs("libreoffice"), hard_workbook(), tmp_path)
    assert [row[rows[0].index("Title")] for row in rows[1:]] == list(_HARD)


def as_values(rows: list[list[str]]) -> list[list[object]]:
    """Give cells as values: `45.50` and `45.5` are one number."""
    return [[_as_value(cell) for cell in row] for row in rows]


def _as_value(cell: str) -> object:
    try:
        return Decimal(cell).normalize()
    except InvalidOperation:
        return cell


def test_pandas_finds_the_same_values_in_both_tables(demo_tables: dict[str, bytes]) -> None:
    read = pd.read_csv(io.BytesIO(demo_tables["csv"]), dtype=str, keep_default_na=False)
    sheet = pd.read_excel(
        io.BytesIO(demo_tables["xlsx"]), dtype=str, keep_default_na=False, engine="calamine"
    )
    assert [list(read.columns), *read.to_numpy().tolist()] == of_csv(demo_tables)
    rows = told_alike([list(sheet.columns), *sheet.to_numpy().tolist()])
    assert as_values(rows) == as_values(of_csv(demo_tables))


def test_libreoffice_finds_the_same_values_in_the_csv(
    demo_tables: dict[str, bytes], needs: Callable[[str], Path], tmp_path: Path
) -> None:
    rows = by_libreoffice(needs("libreoffice"), demo_tables["csv"], tmp_path, "pieces.csv")
    assert as_values(rows) == as_values(of_csv(demo_tables))


def test_the_workbook_explains_its_columns_in_a_second_sheet(demo_tables: dict[str, bytes]) -> None:
    book = CalamineWorkbook.from_filelike(io.BytesIO(demo_tables["xlsx"]))
    explained = {str(row[0]) for row in book.get_sheet_by_index(1).to_python()[1:]}
    assert {heading for heading in by_calamine(demo_tables["xlsx"])[0] if heading[0] != "#"} <= explained
