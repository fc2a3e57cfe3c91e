"""What holds for any file that is added: twice is as once, and a dry run tells what will be."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from guardbook.actions.add_files import Added, add_files
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.intake.columns import Column, Holds, columns_of
from guardbook.records.values import Reference
from tests.intake.files import csv_file
from tests.intake.test_template import sample

# who is there to be named, by kind
NAMED = {
    "agent": "Anna Puig",
    "institution": "Library of Vallmar",
    "host": "V-1",
    "carrier": "C-1",
    "image": "I-1",
    "fragment": "W-0",
}
BEGINNING = {
    "people": [["Name"], [NAMED["agent"]]],
    "institutions": [["Name"], [NAMED["institution"]]],
    "volumes": [["Workshop number", "Stages"], [NAMED["host"], "1 bound; 2 as received"]],
    "carriers": [["Workshop number"], [NAMED["carrier"]]],
    "images": [["Workshop number"], [NAMED["image"]]],
    "pieces": [["Workshop number"], [NAMED["fragment"]]],
}
LEFT_OUT = {"id", "revision", "workshopNumber", "undoes", "outline", "licence", "textLanguages"}
ALWAYS = {"host", "carrierPlaces.carrier", "separationKind"}
NUMBERS = itertools.count(1)
COLUMNS = [column for column in columns_of("pieces") if column.name not in LEFT_OUT]


@pytest.fixture(scope="module")
def shelf() -> Iterator[Access]:
    """Give a catalogue with one record of each kind that a row may name."""
    with open_catalogue(None) as opened:
        access = opened.access()
        files = [(f"{name}.csv", csv_file(*rows)) for name, rows in BEGINNING.items()]
        add_files(access, files, who="Anna", what_for="a beginning")
        yield access


def written(column: Column) -> str:
    marker = column.field.marker if column.field else None
    if column.holds is Holds.RECORD and isinstance(marker, Reference):
        return NAMED[marker.kinds[0]]
    return sample(column, "en")


def add(access: Access, rows: list[list[str]], *, dry_run: bool = False) -> Added:
    files = [("pieces.csv", csv_file(*rows))]
    return add_files(access, files, who="Anna", what_for="a law", sure=True, dry_run=dry_run)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(chosen=st.lists(st.sampled_from(COLUMNS), min_size=1, max_size=25, unique=True))
def test_a_row_added_twice_is_as_a_row_added_once(shelf: Access, chosen: list[Column]) -> None:
    columns = dict.fromkeys([*chosen, *(column for column in COLUMNS if column.name in ALWAYS)])
    once = {f"{column.kind}.{column.name}": written(column) for column in columns}
    once["separation.separationKind"] = "lost"
    rows = [["workshopNumber", *once], [f"N-{next(NUMBERS)}", *once.values()]]
    would = add(shelf, rows, dry_run=True)
    first = add(shelf, rows)
    again = add(shelf, rows)
    assert [str(fault) for fault in would.faults if not fault.doubt] == []
    assert [iri.split("/")[3] for iri in would.new] == [iri.split("/")[3] for iri in first.new]
    assert (again.new, again.changed, again.unchanged) == ((), (), first.new)
