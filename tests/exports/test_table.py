"""Pieces as a table in CSV: one row a piece, and the same records when it is read back."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from typing import Any

import pytest

from guardbook.actions.add_files import add_files
from guardbook.actions.export_records import export_records
from guardbook.actions.load_demo import demo_records
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from guardbook.errors import WrongUse
from guardbook.exports.formats import FORMATS
from guardbook.exports.table import write_csv
from guardbook.records.base import Record
from guardbook.records.documents import from_document
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import LANGUAGES

LISTS = {"features", "series", "answers"}


def fragment(**fields: Any) -> Record:
    return from_document({"type": "Fragment", "id": "fragment/7K3QM2-J", **fields})


def rows(*records: Record) -> list[dict[str, str]]:
    output = io.BytesIO()
    write_csv(records, output)
    return list(csv.DictReader(io.StringIO(output.getvalue().decode("utf-8-sig"))))


def event(kind: str, name: str, host: str) -> Record:
    return from_document(
        {"type": kind, "id": f"{kind.lower()}/{name}", "piece": "fragment/7K3QM2-J", "host": f"host/{host}"}
    )


def test_a_piece_its_placing_and_its_separation_stand_in_one_row() -> None:
    found = rows(
        fragment(), event("Placing", "7K3QM2-J", "7K3QM2-J"), event("Separation", "7K3QM2-J", "7K3QM2-J")
    )
    assert len(found) == 1
    assert found[0]["Placing: Identifier"].endswith("placing/7K3QM2-J")
    assert found[0]["Separation: Identifier"].endswith("separation/7K3QM2-J")


def test_a_second_placing_has_a_row_of_its_own() -> None:
    found = rows(
        fragment(title="Cover"),
        event("Placing", "7K3QM2-J", "7K3QM2-J"),
        event("Placing", "4T9KQ2-V", "4T9KQ2-V"),
    )
    assert [row["Title"] for row in found] == ["Cover", ""]
    assert len({row["Identifier"] for row in found}) == 1


@pytest.mark.parametrize("text", ["=1+1", "+4", "-4", "@x", "=cmd|' /C calc'!A0"])
def test_a_text_is_never_run_as_a_formula_and_comes_back_as_it_was(text: str) -> None:
    assert rows(fragment(title=text))[0]["Title"][0] not in "=+-@"
    output = io.BytesIO()
    write_csv([fragment(title=text)], output)
    with open_catalogue(None) as catalogue:
        access = catalogue.access(Viewer.WORKSHOP)
        add_files(access, [("pieces.csv", output.getvalue())], who="test", what_for="read back")
        assert access.record(fragment().id).record == fragment(title=text)


def test_a_negative_coordinate_stays_a_number() -> None:
    placing = from_document(
        {
            "type": "Placing",
            "piece": "fragment/7K3QM2-J",
            "host": "host/7K3QM2-J",
            "positions": [{"plane": "fold", "x": "-4.50"}],
        }
    )
    assert rows(fragment(), placing)[0]["Position: x (mm)"] == "-4.50"


def without_lists(record: Record) -> Record:
    """Give a record as a row can hold it: no lists, and of its positions and carrier places the first."""
    held: dict[str, tuple[object, ...]] = {name: () for name in LISTS if name in type(record).model_fields}
    for name in ("positions", "carrier_places"):
        if parts := getattr(record, name, ()):
            first = parts[0].model_copy(update={"id": f"#{parts[0].prefix}-1"})
            held[name] = (first,)
    return record.model_copy(update=held)


@pytest.mark.parametrize(("form", "language"), [("csv", "en"), *(("xlsx", one) for one in LANGUAGES)])
def test_the_pieces_of_the_demo_come_back_from_their_table(demo: Catalogue, form: str, language: str) -> None:
    pieces = (Fragment, Placing, Separation)
    others = [record for record in demo_records() if not isinstance(record, pieces)]
    table = io.BytesIO()
    export_records(demo.access(), None, form, table, language=language)
    with open_catalogue(None) as catalogue:
        fresh = catalogue.access()
        files = [("others.trig", trig(others)), (f"pieces.{form}", table.getvalue())]
        add_files(fresh, files, who="test", what_for="read back", sure=True)
        back = {record.id: fresh.record(record.id).record for record in demo_records()}
    for record in demo_records():
        assert back[record.id] == (without_lists(record) if isinstance(record, pieces) else record)


def trig(records: Iterable[Record]) -> bytes:
    output = io.BytesIO()
    FORMATS["trig"].write(records, output)
    return output.getvalue()


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_what_is_no_piece_has_no_row(demo: Catalogue, form: str) -> None:
    host = next(demo.access().iris("host"))
    with pytest.raises(WrongUse, match="of kind fragment only"):
        export_records(demo.access(), [host], form, io.BytesIO())
