"""Finding in a real browser: by mouse, by keyboard alone, without scripts, wide and narrow."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from guardbook.actions.settle_standing import settle_standing
from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations, tab_to

WIDTHS = pytest.mark.parametrize("width", [1280, 390])
PAGES = (
    "/",
    "/search?kind=fragment",
    "/search?kind=fragment&view=pictures&material=parchment",
    "/search?view=timeline&q=psalter",
    "/search?q=zzz&from=1600&to=1500",
)


@pytest.fixture(autouse=True)
def worked_out(demo: Served) -> None:
    settle_standing(demo.access)


def counted(page: Page) -> int:
    found = re.search(r"of (\d+) found", page.locator("#counted").inner_text())
    return int(found[1]) if found else 0


@WIDTHS
@pytest.mark.parametrize("path", PAGES)
def test_a_page_fits_its_window_and_keeps_nobody_out(
    open_page: Opener, demo: Served, path: str, width: int
) -> None:
    page = open_page(demo, width=width)
    page.goto(path)
    check_fits(page)
    check_no_axe_violations(page)


@WIDTHS
def test_with_the_mouse_one_narrows_down_step_by_step_and_goes_back(
    open_page: Opener, demo: Served, width: int
) -> None:
    page = open_page(demo, width=width)
    page.goto("/")
    page.get_by_role("searchbox").fill("psalter")
    page.get_by_role("button", name="Find").click()
    every = counted(page)
    page.evaluate("window.still_the_same_page = true")
    page.get_by_role("link", name="Pieces", exact=True).click()
    expect(page.locator(".chosen")).to_contain_text("Pieces")
    page.locator("#narrow").get_by_role("link", name="panel spine lining").click()
    expect(page.locator(".chosen")).to_contain_text("panel spine lining")
    assert 0 < counted(page) < every
    assert page.url.endswith("q=psalter&kind=fragment&function=spine-lining-panel")
    assert page.evaluate("window.still_the_same_page"), "the whole page was loaded anew"
    page.go_back()
    expect(page.locator(".chosen li")).to_have_count(1)
    page.locator(".chosen a").click()
    expect(page.locator(".chosen")).to_have_count(0)
    assert counted(page) == every


def test_the_address_gives_somebody_else_the_same_results(open_page: Opener, demo: Served) -> None:
    page = open_page(demo)
    page.goto("/search?kind=fragment")
    page.locator("#narrow").get_by_role("link", name="in its volume").click()
    expect(page.locator(".chosen")).to_contain_text("in its volume")
    page.locator(".histogram a").last.click()
    expect(page.locator(".chosen")).to_contain_text("Date")
    found = page.locator(".hits .title").all_inner_texts()
    other = open_page(demo)
    other.goto(page.url)
    assert other.locator(".hits .title").all_inner_texts() == found != []


def test_with_the_keyboard_alone_a_piece_is_found_and_opened(page: Page) -> None:
    page.goto("/")
    tab_to(page, page.get_by_role("searchbox"))
    page.keyboard.type("psalter")
    page.keyboard.press("Enter")
    expect(page.locator("#heading")).to_have_text("“psalter”")
    tab_to(page, page.locator("#narrow").get_by_role("link", name="parchment"))
    page.keyboard.press("Enter")
    expect(page.locator(".chosen")).to_contain_text("parchment")
    tab_to(page, page.locator("#from"), back=True)
    page.keyboard.type("1100")
    page.keyboard.press("Tab")
    page.keyboard.type("1250")
    page.keyboard.press("Enter")
    expect(page.locator(".chosen")).to_contain_text("1100 to 1250")
    title = page.locator(".hits .title a").first
    name = title.inner_text()
    page.keyboard.press("Control+Home")
    tab_to(page, title, back=True)
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_have_text(re.compile(re.escape(name), re.IGNORECASE))


def test_the_focus_stays_where_one_was_when_the_results_are_replaced(page: Page) -> None:
    page.goto("/search?kind=fragment")
    view = page.locator(".views").get_by_role("link", name="Timeline")
    tab_to(page, view)
    page.keyboard.press("Enter")
    expect(page.locator(".timed")).to_be_visible()
    expect(page.locator(".views").get_by_role("link", name="Timeline")).to_be_focused()


def test_without_scripts_the_same_links_and_forms_find_the_same(open_page: Opener, demo: Served) -> None:
    page = open_page(demo, scripts=False)
    page.goto("/search?kind=fragment")
    every = counted(page)
    page.locator("#narrow").get_by_role("link", name="laid paper").click()
    assert 0 < counted(page) < every
    page.locator("#from").fill("1500")
    page.get_by_role("button", name="Show").click()
    assert page.url.endswith("kind=fragment&material=paper-laid&from=1500&to=")
    page.get_by_role("searchbox").fill("almanac")
    page.get_by_role("button", name="Find").click()
    assert "q=almanac&kind=fragment&material=paper-laid&from=1500" in page.url
    page.get_by_role("link", name="Pictures").click()
    assert page.url.endswith("view=pictures")


def test_years_that_make_no_sense_are_told_beside_them_and_stay_as_typed(page: Page) -> None:
    page.goto("/search?kind=fragment")
    page.locator("#from").fill("15th")
    page.locator("#years-show").click()
    expect(page.locator("#years-wrong")).to_contain_text("15th")
    expect(page.locator("#from")).to_have_value("15th")
    expect(page.locator("#from")).to_have_attribute("aria-invalid", "true")


@pytest.mark.parametrize("scripts", [True, False])
def test_the_language_is_the_browsers_and_can_be_changed(
    open_page: Opener, demo: Served, scripts: bool
) -> None:
    page = open_page(demo, language="ca-ES", scripts=scripts)
    page.goto("/search?kind=fragment")
    assert page.locator("html").get_attribute("lang") == "ca"
    page.locator(".languages summary").click()
    page.get_by_role("button", name="Deutsch").click()
    assert page.locator("html").get_attribute("lang") == "de"
    assert page.url.endswith("/search?kind=fragment")
    page.goto("/terms")
    assert page.locator("html").get_attribute("lang") == "de"
