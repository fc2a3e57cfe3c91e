"""The application over a small catalogue in memory."""

from collections.abc import Iterator

import pytest
from starlette.types import ASGIApp

from guardbook.__main__ import application
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from tests.api.client import Client
from tests.api.shelf import SHELF
from tests.catalogue.shelf import save


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    """Give a catalogue with a volume, two pieces and what happened to them."""
    with open_catalogue(None) as opened:
        save(opened.access(), *SHELF)
        yield opened


@pytest.fixture
def app(catalogue: Catalogue) -> ASGIApp:
    """Give the application that serves it."""
    views = {viewer: catalogue.access(viewer) for viewer in Viewer}
    return application(views.__getitem__)


@pytest.fixture
def here(app: ASGIApp) -> Client:
    """Give a program on the machine itself."""
    return Client(app)


@pytest.fixture
def away(app: ASGIApp) -> Client:
    """Give a program somewhere else."""
    return Client(app, base_url="https://catalogue.example", address="203.0.113.7")
