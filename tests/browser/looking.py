"""Look at the pages in a real browser.

`page` is a page (1280 px wide, scripts on) whose addresses begin at the served demo, for tests that change
nothing: `page.goto("/search")`. A test that saves something asks for `open_page` and `own_demo`:
`page = open_page(own_demo)`; `own_demo.access` is the workshop's view of what was saved. Further words:
`open_page(demo, width=390)`, `scripts=False`, `language="ca"`, `may_fail=("status of 404",)`.

Every page is watched. A violation of the Content-Security-Policy, an error on the console, an error nobody
caught or a request to another host fails the test as it ends, except for what holds one of `may_fail`.
`page.context.set_offline(True)` cuts the network (then `may_fail=("ERR_INTERNET_DISCONNECTED",)`).

`check_no_axe_violations(page)` and `check_fits(page)` judge a page as it stands; `tab_to(page, locator)` gets
somewhere by the Tab key alone. Do not use `tests.api.client` in such a test: while the browser is open,
nothing else in the process can start an event loop.
"""

from __future__ import annotations

import json
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit

import uvicorn
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Locator, Page, Request

from guardbook.__main__ import application
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import Catalogue
from tests.parts import NODE_FOLDER

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
AXE = NODE_FOLDER / "node_modules" / "axe-core" / "axe.min.js"
# WCAG 2.2 AA and what axe holds to be good practice; the size of targets is only looked at when asked for
AXE_OPTIONS = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "rules": {"target-size": {"enabled": True}},
    "resultTypes": ["violations"],
}
TELL_VIOLATIONS = """
addEventListener("securitypolicyviolation", event =>
  console.error(`Content-Security-Policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`))
"""
HEIGHT_PX = 900
LONGEST_START_SECONDS = 20


@dataclass(frozen=True)
class Served:
    """What is served: its address, without a slash at the end, and the workshop's view of it."""

    address: str
    access: Access


@contextmanager
def serving(catalogue: Catalogue) -> Iterator[Served]:
    """Serve a catalogue on a free port of this machine."""
    views = {viewer: catalogue.access(viewer) for viewer in Viewer}
    listener = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(application(views.__getitem__), log_level="error", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
    thread.start()
    latest = time.monotonic() + LONGEST_START_SECONDS
    try:
        while not server.started and time.monotonic() < latest:
            time.sleep(0.01)
        assert server.started, "the server did not start"
        yield Served(f"http://127.0.0.1:{listener.getsockname()[1]}", views[Viewer.WORKSHOP])
    finally:
        server.should_exit = True
        thread.join()
        listener.close()


@dataclass
class Opener:
    """Opens watched pages in one browser, and remembers what they did wrong."""

    browser: Browser
    faults: list[str] = field(default_factory=list)
    contexts: list[BrowserContext] = field(default_factory=list)

    def __call__(
        self,
        served: Served,
        *,
        width: int = 1280,
        scripts: bool = True,
        language: str = "en",
        may_fail: tuple[str, ...] = (),
    ) -> Page:
        """Open a page, as a new visitor, whose addresses begin at what is served."""
        context = self.browser.new_context(
            base_url=served.address,
            viewport={"width": width, "height": HEIGHT_PX},
            java_script_enabled=scripts,
            locale=language,
        )
        self.contexts.append(context)
        context.add_init_script(TELL_VIOLATIONS)
        own = urlsplit(served.address).netloc

        def note(fault: str) -> None:
            if not any(known in fault for known in may_fail):
                self.faults.append(fault)

        def heard(message: ConsoleMessage) -> None:
            if message.type == "error":
                note(f"{message.page.url if message.page else ''}: {message.text}")

        def asked(request: Request) -> None:
            if urlsplit(request.url).netloc not in {own, ""}:
                note(f"asked another host: {request.url}")

        context.on("console", heard)
        context.on("request", asked)
        context.on("weberror", lambda error: note(f"not caught: {error.error}"))
        return context.new_page()

    def close(self) -> None:
        """Close all pages."""
        for context in self.contexts:
            context.close()


def axe_violations(page: Page) -> list[str]:
    """Give what axe-core holds against the page, in the browser's light and dark colours.

    It is evaluated through the debugger, so that the page's policy stays as strict as it is.
    """
    found = []
    for colours in ("light", "dark"):
        page.emulate_media(color_scheme=colours)
        page.evaluate(AXE.read_text(encoding="utf-8"))
        violations: list[dict[str, Any]] = page.evaluate(
            f"axe.run(document, {json.dumps(AXE_OPTIONS)}).then(result => result.violations)"
        )
        found += [
            f"{colours}: {one['id']}: {node['html'][:160]} {node.get('failureSummary', '')}"
            for one in violations
            for node in one["nodes"]
        ]
    page.emulate_media(color_scheme="light")
    return found


def check_no_axe_violations(page: Page) -> None:
    """Hold the page, as it stands, to WCAG 2.2 AA as far as axe-core can tell."""
    assert axe_violations(page) == []


def check_fits(page: Page) -> None:
    """Hold the page to its window: nothing makes it scroll sideways (WCAG 2.2, 1.4.10)."""
    wide, window = page.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
    )
    assert wide <= window


def tab_to(page: Page, target: Locator, *, most: int = 120, back: bool = False) -> None:
    """Press Tab until the target has the focus, as somebody without a mouse would."""
    wanted = target.element_handle()
    for _ in range(most):
        page.keyboard.press("Shift+Tab" if back else "Tab")
        if wanted.evaluate("element => element === document.activeElement"):
            return
    raise AssertionError(f"Tab does not get to {target}.")
