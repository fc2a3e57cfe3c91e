"""The demonstration, read once."""

import pytest

from guardbook.actions.load_demo import demo_records
from guardbook.records.base import Record
from tests.demo.scenario import Scenario


@pytest.fixture(scope="session")
def records() -> tuple[Record, ...]:
    """Give every record of the demonstration, in the order in which they are told."""
    return demo_records()


@pytest.fixture(scope="session")
def scenario(records: tuple[Record, ...]) -> Scenario:
    """Give the demonstration by kinds."""
    return Scenario(records)
