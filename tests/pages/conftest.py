"""The pages over the same small catalogue as the API."""

import pytest

from tests.api.client import Client
from tests.api.conftest import app, away, catalogue, here

__all__ = ["app", "away", "catalogue", "here"]


@pytest.fixture
def reader(here: Client) -> Client:
    """Give a browser on the machine itself."""
    return Client(here.app, headers={"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"})
