"""A small workshop in a catalogue in memory, for trying what a user can do."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from guardbook import settings
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
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a data folder that the settings name."""
    folder = tmp_path / "data"
    here = replace(settings.current(), data=folder)
    monkeypatch.setattr(settings, "current", lambda: here)
    return folder
