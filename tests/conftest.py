"""What all tests share: parts from outside that may be missing, and how hypothesis searches."""

import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import hypothesis
import pytest

from guardbook import settings
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue, open_catalogue
from tests import parts

HERE = Path(__file__).parent


def in_ci() -> bool:
    """Tell whether everything must be there."""
    return os.environ.get("CI") == "true"


# A busy machine is no fault of the code, so no test fails for being slow; in CI the same cases each time.
hypothesis.settings.register_profile("guardbook", deadline=None, derandomize=in_ci(), print_blob=True)
hypothesis.settings.load_profile("guardbook")


@pytest.fixture(scope="session")
def needs() -> Callable[[str], Path]:
    """Give where a part from outside is; without it, skip the test, or fail it where CI=true."""

    def find(name: str) -> Path:
        part = parts.PARTS[name]
        if found := part.find():
            return found
        reason = f"{name} is missing ({part.purpose}); to have it, {part.by_hand}"
        if in_ci():
            pytest.fail(reason, pytrace=False)
        pytest.skip(reason)

    return find


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    """Give an empty catalogue in memory."""
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


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is in the benchmarks folder, so that it is left out unless asked for."""
    for item in items:
        if item.path.is_relative_to(HERE / "benchmarks"):
            item.add_marker(pytest.mark.benchmark)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Mention at the end what this machine does not have."""
    for part in parts.missing():
        terminalreporter.write_line(f"Not on this machine: {part.name}, for {part.purpose}.")
