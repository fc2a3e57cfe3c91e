"""A small workshop in a catalogue in memory, for trying what a user can do."""

from collections.abc import Iterator

import pytest

from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    """Give an empty catalogue."""
    with open_catalogue(None) as opened:
        yield opened


@pytest.fixture
def workshop(catalogue: Catalogue) -> Access:
    """Give the workshop's view of it."""
    return catalogue.access()


@pytest.fixture
def public(catalogue: Catalogue) -> Access:
    """Give the public's view of it."""
    return catalogue.access(Viewer.PUBLIC)
