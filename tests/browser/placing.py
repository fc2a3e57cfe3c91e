"""What the tests of the drawing a piece is placed on do with it."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

# a spine lining of the law book: 56 x 33 mm, its tail-left corner at -28, 177.5, its front face turned away
LAW_BOOK, LINING = "host/N6Y9VM-C", "fragment/B89RYC-6"
PLACE = f"/{LAW_BOOK}/place?piece={LINING}"
# a piece on the inside of the upper board, where x runs to the left
PASTEDOWN = "/host/F46DQ0-3/place?piece=fragment/R36V3Q-Z"
# a piece of which only the leaf is recorded
UNPLACED = "/host/60CWNS-H/place?piece=fragment/76GK6B-F"


def opened(page: Page, address: str = PLACE) -> Page:
    """Open the page and wait for the drawing."""
    page.goto(address)
    page.locator(".placing-svg").wait_for()
    return page


def part(page: Page, name: str) -> Locator:
    return page.locator(f'[data-part="{name}"]')


def place(page: Page) -> tuple[str, ...]:
    return tuple(part(page, name).input_value() for name in ("x", "y", "rotation", "mirrored"))


def said(page: Page) -> str:
    return page.locator(".placing-said").inner_text()


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def middle(found: Locator) -> tuple[float, float]:
    found.scroll_into_view_if_needed()
    box = found.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Page, found: Locator, dx: float, dy: float) -> None:
    x, y = middle(found)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx / 2, y + dy / 2, steps=3)
    page.mouse.move(x + dx, y + dy, steps=3)


def piece(page: Page) -> Locator:
    return page.locator('[data-grab="piece"]')


def pixels_per_mm(page: Page) -> float:
    found: float = piece(page).evaluate("element => element.getBBox().width / 56")
    return found
