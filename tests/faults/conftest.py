"""A workshop with one library, one volume and one piece in it, in a catalogue in memory."""

from collections.abc import Iterator

import pytest

from guardbook.actions.add_files import add_files
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue
from tests.intake.files import csv_file

VOLUMES = [["Workshop number", "Stages"], ["V-1", "1 bound 1510~; 2 as received 2024"]]
PIECES = [["Workshop number", "Host volume", "Function", "Height"], ["W-1", "V-1", "sewing guard", "123"]]


@pytest.fixture
def workshop() -> Iterator[Access]:
    """Give the workshop's view of the catalogue."""
    with open_catalogue(None) as opened:
        access = opened.access()
        files = (("volumes.csv", csv_file(*VOLUMES)), ("pieces.csv", csv_file(*PIECES)))
        add_files(access, files, who="Anna", what_for="a beginning")
        yield access
