"""Registering a strip that was taken out, as a stranger does it, and what that takes."""

from __future__ import annotations

import io
from dataclasses import dataclass

from PIL import Image
from playwright.sync_api import FilePayload, Locator, Page

MOST_TABS = 400
VOLUME = "Decretals with commentary"
# what is typed or chosen, step by step: the id of the control, and what goes into it
ON_SIGHT = (
    ("fragment-title", "Strip of a missal, panel 4"),
    ("fragment-extent", "strip"),
    ("fragment-material", "parchment"),
    ("placing-function", "panel spine lining"),
    ("placing-positions-0-plane", "spine of the text block"),
    ("fragment-seenBy", "Mirela Taskovent"),
    ("fragment-seenWhen", "3.11.2025"),
)
BEFORE = (
    ("fragment-height", "3,3 cm"),
    ("fragment-width", "56"),
    ("fragment-holes-0-list", "x 10: 5 20"),
    ("placing-positions-0-x", "-28"),
    ("placing-positions-0-y", "120"),
    ("placing-positions-0-certainty", "measured"),
)
LIFTING = (
    ("separation-separationKind", "lifted in treatment"),
    ("separation-when", "4.11.2025"),
    ("separation-by", "Mirela Taskovent"),
)
AFTER = (("separation-housing", "box"), ("separation-boxLocation", "Drawer 3"))
STEPS = (("Before lifting", ON_SIGHT), ("Lifting", BEFORE), ("After", LIFTING), ("", AFTER))


def photograph(name: str = "in place.jpg") -> FilePayload:
    """Give a small photograph as a file to choose."""
    file = io.BytesIO()
    Image.new("RGB", (60, 30), "tan").save(file, "JPEG")
    return {"name": name, "mimeType": "image/jpeg", "buffer": file.getvalue()}


@dataclass
class Hand:
    """Fills a form in with the mouse or by the keyboard alone, and counts clicks and keys."""

    page: Page
    has_mouse: bool
    clicks: int = 0
    keys: int = 0

    def press(self, target: Locator) -> None:
        """Press a button or follow a link."""
        if self.has_mouse:
            target.click()
            self.clicks += 1
        else:
            self._go_to(target)
            self._key("Enter")

    def put(self, identity: str, text: str) -> None:
        """Type into a control, or choose from it by typing what the choice is called."""
        target = self.page.locator(f"#{identity}")
        if self.has_mouse:
            target.click()
            self.clicks += 1
            if target.evaluate("element => element.localName") == "select":
                # the list is open: one more click chooses
                target.select_option(label=text)
                self.clicks += 1
                return
        else:
            self._go_to(target)
        self.page.keyboard.type(text)
        self.keys += len(text)

    def choose(self, identity: str, file: FilePayload) -> None:
        """Choose a file; the window in which it is chosen is the system's own."""
        self.page.locator(f"#{identity}").set_input_files([file])
        self.clicks += 2

    def _go_to(self, target: Locator) -> None:
        """Press Tab until the target has the focus; every press counts."""
        wanted = target.element_handle()
        for _ in range(MOST_TABS):
            self._key("Tab")
            if wanted.evaluate("element => element === document.activeElement"):
                return
        raise AssertionError(f"Tab does not get to {target}.")

    def _key(self, name: str) -> None:
        self.page.keyboard.press(name)
        self.keys += 1


def register(hand: Hand, *, with_photograph: bool = True) -> None:
    """Register the strip from the first page on."""
    page = hand.page
    page.goto("/")
    hand.press(page.get_by_role("link", name="Register", exact=True))
    hand.put("volume", "decretals")
    hand.press(page.get_by_role("button", name="Look for it"))
    hand.press(page.get_by_role("link", name=VOLUME))
    for next_step, fields in STEPS:
        for identity, text in fields:
            hand.put(identity, text)
        if with_photograph and fields is BEFORE:
            hand.choose("photographs-in-place", photograph())
        if next_step:
            hand.press(page.get_by_role("link", name=f"Go on to: {next_step}", exact=True))
    hand.press(page.locator("[data-save]"))
    wait_until_saved(page)


def wait_until_saved(page: Page) -> None:
    """Wait for the page that says so, and for all that it loads."""
    page.wait_for_url("**/saved", timeout=60_000)
    page.wait_for_load_state("networkidle")
