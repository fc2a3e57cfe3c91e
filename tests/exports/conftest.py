"""A catalogue in memory, for handing records on from."""

import pytest

from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.catalogue import Catalogue


@pytest.fixture
def demo(catalogue: Catalogue) -> Catalogue:
    """Give the catalogue with the invented scenario in it."""
    load_demo(catalogue.access(), if_empty=True)
    return catalogue
