"""A small workshop in a catalogue in memory, for trying what a user can do."""

from collections.abc import Iterator

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Access
from guardbook.catalogue.catalogue import open_catalogue


@pytest.fixture(scope="module")
def demo() -> Iterator[Access]:
    """Give the workshop's view of the demonstration, for tests that only look."""
    with open_catalogue(None) as opened:
        load_demo(opened.access(), if_empty=True)
        yield opened.access()
