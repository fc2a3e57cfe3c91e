"""A real browser before the served demo; how to use it is told in `tests.browser.looking`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.catalogue import open_catalogue
from tests.browser.looking import ARGUMENTS, Opener, Served, serving


@pytest.fixture(scope="session")
def demo() -> Iterator[Served]:
    """Serve the demo to all tests that change nothing."""
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        with serving(catalogue) as served:
            yield served


@pytest.fixture
def own_demo() -> Iterator[Served]:
    """Serve a demo of its own to a test that changes something."""
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(), if_empty=True)
        with serving(catalogue) as served:
            yield served


# no longer than a module: while it is open nothing else in this process can start an event loop
@pytest.fixture(scope="module")
def chromium(needs: Callable[[str], Path]) -> Iterator[Browser]:
    """Start the system's browser."""
    program = needs("chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture
def open_page(chromium: Browser) -> Iterator[Opener]:
    """Open watched pages; what they did wrong fails the test when it ends."""
    opener = Opener(chromium)
    yield opener
    opener.close()
    assert opener.faults == []


@pytest.fixture
def page(open_page: Opener, demo: Served) -> Page:
    """Give a page before the served demo, 1280 px wide, with scripts."""
    return open_page(demo)
