"""A catalogue in memory, for handing records on from."""

from collections.abc import Iterator

import pytest

from guardbook.actions.load_demo import load_demo
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


@pytest.fixture
def demo(catalogue: Catalogue) -> Catalogue:
    """Give the catalogue with the invented scenario in it."""
    load_demo(catalogue.access(), if_empty=True)
    return catalogue
