"""A reader checks dates and tries weights out; a conservator goes past the page before lifting."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from guardbook.actions.show_record import show_record
from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations, tab_to

LAW_BOOK, TOLL_BOOK, SURVEY = "/host/N6Y9VM-C", "/host/5JZSY8-3", "/decision/VP96S8-T"
GUARD = "/separation/JP617T-K"
EVERY_PAGE = (
    f"{LAW_BOOK}/evidence",
    f"{TOLL_BOOK}/evidence",
    "/fragment/HBGE83-F/evidence",
    "/separation/W9V0WB-H/examinations",
    f"{SURVEY}/decision",
    f"{SURVEY}/decision?weight.criterion-1=6.5",
    f"{GUARD}/before-lifting",
    "/fragment/66WKRM-5/before-lifting",
    "/bench",
    "/bench?list=away",
)


@pytest.fixture(params=[1280, 390], ids=["wide", "narrow"])
def width(request: pytest.FixtureRequest) -> int:
    return int(request.param)


@pytest.mark.parametrize("path", EVERY_PAGE)
def test_every_page_fits_and_holds_to_what_axe_can_tell(
    open_page: Opener, demo: Served, width: int, path: str
) -> None:
    page = open_page(demo, width=width)
    page.goto(path)
    check_fits(page)
    check_no_axe_violations(page)


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_bar_of_the_timeline_leads_to_the_statements_that_set_it(
    open_page: Opener, demo: Served, width: int, *, scripts: bool
) -> None:
    page = open_page(demo, width=width, scripts=scripts)
    page.goto(f"{LAW_BOOK}/evidence")
    page.locator(".drawing svg:visible a[href='#time-3']").click()
    expect(page).to_have_url(re.compile("#time-3$"))
    expect(page.locator("h3:target")).to_contain_text("Rebacked with a hollow tube")
    section = page.locator("section.time").nth(2)
    section.get_by_text("Each step, with the rule behind it").click()
    expect(
        section.get_by_text("What is original to an assembly was put in when that was put together.").first
    ).to_be_visible()
    section.get_by_role("link", name="fragment/2N1F32-8").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Hollow tube rolled from a newspaper")


def test_on_a_narrow_screen_readings_are_blocks_that_name_each_part(open_page: Opener, demo: Served) -> None:
    page = open_page(demo, width=390)
    page.goto(f"{TOLL_BOOK}/evidence")
    cell = page.locator(".readings td").first
    assert cell.evaluate("cell => getComputedStyle(cell).display") == "block"
    assert "Seen" in cell.evaluate("cell => getComputedStyle(cell, '::before').content")


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_weight_is_tried_out_by_keyboard_and_nothing_is_saved(
    open_page: Opener, demo: Served, *, scripts: bool
) -> None:
    page = open_page(demo, scripts=scripts)
    page.goto(f"{SURVEY}/decision")
    before = show_record(demo.access, SURVEY.removeprefix("/")).kept.revision
    weight = page.locator("input[name='weight.criterion-1']")
    tab_to(page, weight)
    page.keyboard.press("Control+A")
    page.keyboard.type("6,5")
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(r"weight\.criterion-1=6%2C5"))
    expect(page.locator(".scores tfoot")).to_contain_text(re.compile(r"Place\s*2\s*1"))
    expect(page.get_by_text("Weights are tried out here that the record does not have.")).to_be_visible()
    assert show_record(demo.access, SURVEY.removeprefix("/")).kept.revision == before


def test_the_text_for_the_owner_is_copied(open_page: Opener, demo: Served) -> None:
    page = open_page(demo)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(f"{SURVEY}/decision")
    page.get_by_role("button", name="Copy the text").click()
    expect(page.get_by_role("status").filter(has_text="Copied")).to_be_visible()
    assert "There are 4 ways to go on." in page.evaluate("navigator.clipboard.readText()")


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_conservator_goes_ahead_with_a_reason(
    own_demo: Served, open_page: Opener, width: int, *, scripts: bool
) -> None:
    page = open_page(own_demo, width=width, scripts=scripts, may_fail=("status of 400",))
    page.goto("/bench")
    page.goto(f"{GUARD}/before-lifting")
    expect(page.get_by_role("status")).to_contain_text("25 things are open")
    page.get_by_label("Lifted on").fill("24.11.2025")
    page.get_by_label("Who says so").fill("Mirela")
    go_ahead(page)
    expect(page.get_by_role("alert")).to_contain_text("why it goes ahead though 25 things are open")
    expect(page.get_by_label("Who says so")).to_have_value("Mirela")
    page.get_by_label("Why it goes ahead").fill("The joint is giving way.")
    go_ahead(page)
    expect(page.get_by_role("heading", level=1)).to_have_text("“Sewing guard of gathering 4” was lifted")
    expect(page.get_by_role("status")).to_contain_text("The joint is giving way.")
    kept = own_demo.access.record(own_demo.access.resolve(GUARD.removeprefix("/"))).record
    assert "The joint is giving way." in str(kept)


def go_ahead(page: Page) -> None:
    page.get_by_role("button", name="Go ahead").click()


def test_the_pages_are_printed_without_what_only_a_screen_needs(open_page: Opener, demo: Served) -> None:
    page = open_page(demo)
    page.goto(f"{SURVEY}/decision")
    page.emulate_media(media="print")
    assert page.get_by_role("button").locator("visible=true").count() == 0
    expect(page.locator(".side-by-side").first).to_be_visible()
    page.goto(f"{GUARD}/before-lifting")
    page.emulate_media(media="print")
    expect(page.get_by_role("heading", name="Go ahead")).to_be_hidden()
    expect(page.get_by_role("heading", name="Cannot be recorded later")).to_be_visible()
