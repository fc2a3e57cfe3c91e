"""A fresh catalogue for each test: in memory and in a folder, since both must do the same."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from guardbook.catalogue.catalogue import Catalogue, open_catalogue


@pytest.fixture(params=["memory", "folder"])
def catalogue(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue."""
    with open_catalogue(tmp_path / "data" if request.param == "folder" else None) as opened:
        yield opened
