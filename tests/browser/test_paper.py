"""Pages that are to be printed can be read on a screen too, and print without what only a screen needs."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.looking import Opener, Served, axe_violations, check_fits

PATHS = (
    "/labels?id=fragment/B89RYC-6&id=Q21-008",
    "/fragment/B89RYC-6/label",
    "/host/5JZSY8-3/bench-sheet",
    "/bench-sheet",
)
MM = 96 / 25.4


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("path", PATHS)
def test_a_page_to_print_keeps_nobody_out_and_fits(
    path: str, width: int, open_page: Opener, demo: Served
) -> None:
    page = open_page(demo, width=width)
    page.goto(path)
    check_fits(page)
    assert axe_violations(page) == []


def test_paper_shows_the_label_alone(page: Page) -> None:
    page.goto(PATHS[0])
    assert page.get_by_role("banner").is_visible()
    page.emulate_media(media="print")
    assert not page.get_by_role("banner").is_visible()
    assert not page.get_by_role("button").first.is_visible()
    assert page.locator(".label").count() == 2
    assert page.locator(".label").first.is_visible()


def test_the_rule_on_the_page_is_as_long_as_it_says(page: Page) -> None:
    page.goto("/bench-sheet")
    drawn = page.locator(".to-draw-on svg").first.bounding_box()
    assert drawn is not None
    assert drawn["width"] / MM == pytest.approx(115, abs=0.5)


def test_papers_are_found_from_the_page_of_a_volume(page: Page) -> None:
    page.goto("/host/5JZSY8-3.html")
    papers = page.locator("#paper a")
    assert [link.get_attribute("href") for link in papers.all()] == [
        f"/host/5JZSY8-3/{paper}" for paper in ("label", "bench-sheet", "report.pdf", "sheet.pdf")
    ]
    papers.nth(1).click()
    assert page.get_by_role("heading", level=1).inner_text().startswith("Bench sheet")
