"""The watch over pages sees what is wrong."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.looking import Opener, Served, axe_violations, check_fits, check_no_axe_violations, tab_to


@pytest.mark.parametrize(
    ("script", "fault"),
    [
        ("document.body.setAttribute('onclick', 'alert(1)')", "script-src"),
        ("document.body.insertAdjacentHTML('beforeend', '<p style=\"color:red\">x</p>')", "style"),
        ("new Image().src = 'https://elsewhere.example/a.png'", "img-src"),
        ("setTimeout(() => { throw Error('dropped the shears') })", "dropped the shears"),
        ("console.error('no paste left')", "no paste left"),
    ],
)
def test_what_a_page_may_not_do_is_seen(open_page: Opener, demo: Served, script: str, fault: str) -> None:
    page = open_page(demo)
    page.goto("/")
    page.evaluate(script)
    page.wait_for_timeout(100)
    assert any(fault in found for found in open_page.faults), open_page.faults
    open_page.faults.clear()


def test_a_request_to_another_host_is_seen(open_page: Opener, demo: Served) -> None:
    page = open_page(demo, may_fail=("ERR_",))
    page.context.route("https://elsewhere.example/**", lambda route: route.fulfill(body="there"))
    page.goto("https://elsewhere.example/")
    assert open_page.faults == ["asked another host: https://elsewhere.example/"]
    open_page.faults.clear()


def test_what_keeps_readers_out_is_seen(page: Page) -> None:
    page.goto("/")
    check_no_axe_violations(page)
    page.evaluate("document.querySelector('main').innerHTML = '<img src=\"/static/mark.svg\">'")
    assert any("image-alt" in found for found in axe_violations(page))


def test_a_page_too_wide_for_its_window_is_seen(page: Page) -> None:
    page.goto("/")
    check_fits(page)
    page.evaluate("document.querySelector('h1').style.minWidth = '3000px'")
    with pytest.raises(AssertionError):
        check_fits(page)


def test_the_tab_key_gets_to_what_can_be_used_and_to_nothing_else(page: Page) -> None:
    page.goto("/")
    tab_to(page, page.get_by_role("searchbox").first)
    with pytest.raises(AssertionError):
        tab_to(page, page.locator("h1"), most=30)
