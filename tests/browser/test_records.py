"""A stranger goes through a volume, finds where a piece is now, and lays two uses over each other."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations, tab_to

LAW_BOOK, ACCOUNTS = "/host/N6Y9VM-C", "/host/F90AA2-P"
STRIP, COVER, PSALTER = "/fragment/B89RYC-6", "/fragment/HBGE83-F", "/carrier/1NE28B-M"
ONE_OF_EACH = (
    LAW_BOOK,
    STRIP,
    COVER,
    PSALTER,
    "/separation/43ERJK-Z",
    "/image/8K3DRK-7",
    "/decision/VP96S8-T",
    "/reading/F8R0JP-C",
    "/move/G17ZN8-8",
    "/agent/F2TT7D-1",
    "/institution/SH1V45-5",
)
IN_PLACE = "Strip of a psalter, spine panel 1: panel spine lining"


@pytest.fixture(params=[1280, 390], ids=["wide", "narrow"])
def width(request: pytest.FixtureRequest) -> int:
    return int(request.param)


def drawing(page: Page) -> str:
    """Give the words of the drawing that is to be seen."""
    return page.locator("#binding .drawing svg:visible").text_content() or ""


def stage(page: Page, name: str) -> Locator:
    return page.get_by_role("navigation", name="Stages").get_by_role("link", name=name)


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_the_linings_go_back_to_their_places_and_one_tells_where_it_is_now(
    open_page: Opener, demo: Served, width: int, *, scripts: bool
) -> None:
    page = open_page(demo, width=width, scripts=scripts)
    page.goto(f"{LAW_BOOK}.html")
    assert IN_PLACE not in drawing(page)
    stage(page, "As received").click()
    expect(stage(page, "As received")).to_have_attribute("aria-current", "step")
    page.get_by_role("link", name="The back of the text block", exact=True).click()
    expect(page).to_have_url(re.compile("stage=3&plane=textblock-spine"))
    assert IN_PLACE in drawing(page)
    # it lies under the spine leather, so one gets to it by its letter in the legend
    page.locator(f'#binding .drawing svg:visible a[tabindex][href="{STRIP}"]').click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Strip of a psalter, spine panel 1")
    expect(page.locator("#where .lead")).to_contain_text("Now it is kept by Library of the College of Saint")


def test_only_the_drawing_and_its_list_are_swapped_and_the_way_back_leads_back(page: Page) -> None:
    page.goto(f"{LAW_BOOK}.html?stage=5&plane=textblock-spine")
    page.evaluate("document.title = 'not loaded anew'")
    stage(page, "As received").click()
    expect(stage(page, "As received")).to_have_attribute("aria-current", "step")
    assert page.title() == "not loaded anew"
    assert IN_PLACE in drawing(page)
    assert page.locator("#binding").count() == 1
    page.go_back()
    expect(stage(page, "Rebacked again")).to_have_attribute("aria-current", "step")
    assert IN_PLACE not in drawing(page)


def test_a_volume_is_gone_through_by_keyboard_and_the_focus_stays(page: Page) -> None:
    page.goto(f"{LAW_BOOK}.html?stage=5&plane=textblock-spine")
    tab_to(page, stage(page, "As received"))
    page.keyboard.press("Enter")
    expect(stage(page, "As received")).to_have_attribute("aria-current", "step")
    expect(stage(page, "As received")).to_be_focused()
    strip = page.locator(f'#binding .for-wide a[href="{STRIP}"]').first
    tab_to(page, strip)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Strip of a psalter, spine panel 1")


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_two_uses_of_a_cover_are_laid_over_each_other_and_told_apart(
    open_page: Opener, demo: Served, width: int, *, scripts: bool
) -> None:
    page = open_page(demo, width=width, scripts=scripts)
    page.goto(f"{ACCOUNTS}.html")
    page.locator("#over").get_by_role("link", name="which held the same").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Two laid over each other")
    table = page.get_by_role("table", name="Which use accounts for which trace")
    expect(table.get_by_role("row").filter(has_text="lacing hole").first).to_be_visible()
    expect(page.locator("svg:visible")).to_have_count(1)
    check_fits(page)


def test_a_cover_that_was_used_twice_is_seen_in_either_volume(page: Page) -> None:
    page.goto(f"{COVER}.html")
    places = page.get_by_role("navigation", name="Where it sat, one place after the other")
    places.get_by_role("link", name="Accounts of the tanners").first.click()
    expect(page.locator("#in-place-heading")).to_contain_text("In its place in Accounts of the tanners")
    expect(page).to_have_url(re.compile("stay=1"))


def test_the_pictures_of_a_piece_are_small_and_lead_to_the_whole(page: Page) -> None:
    page.goto(f"{STRIP}.html")
    picture = page.locator("#pictures img").first
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)  # noqa: FBT003
    assert 0 < picture.evaluate("one => one.naturalWidth") <= 640
    page.locator("#pictures a").first.click()
    expect(page.locator(".picture img")).to_be_visible()


@pytest.mark.parametrize("path", ONE_OF_EACH)
def test_the_page_of_every_kind_keeps_no_reader_out_and_fits(
    open_page: Opener, demo: Served, width: int, path: str
) -> None:
    page = open_page(demo, width=width)
    page.goto(f"{path}.html")
    check_no_axe_violations(page)
    check_fits(page)
