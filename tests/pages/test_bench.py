"""The overview for the workshop as a page and by the API."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.bench import LISTS
from guardbook.actions.load_demo import load_demo
from guardbook.actions.settle_standing import settle_standing
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        load_demo(views[Viewer.WORKSHOP], if_empty=True)
        settle_standing(views[Viewer.WORKSHOP])
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def test_every_list_has_its_count_and_leads_on(browser: Client) -> None:
    page = browser.get("/bench").text
    assert [name for name in re.findall(r'<h2 id="([\w-]+)"', page) if name in LISTS] == list(LISTS)
    assert 'href="/separation/JP617T-K/before-lifting"' in page
    assert 'href="/bench?list=away"' in page
    for address in re.findall(r'<li><a href="(/[a-z]+/[^"#]+)"', page):
        assert browser.get(address).status_code == 200


def test_one_list_is_shown_whole(browser: Client) -> None:
    page = browser.get("/bench?list=away").text
    shown = page.partition('<h2 id="away"')[2].partition("</section>")[0]
    assert shown.count("<li>") == int(re.findall(r'class="count">(\d+)', shown)[0])
    assert "And " not in shown


def test_it_is_offered_to_the_workshop_and_refused_to_the_public(browser: Client) -> None:
    assert 'href="/bench"' in browser.get("/").text
    assert 'href="/bench"' not in browser.get("/?as=public").text.partition("<main")[0]
    assert browser.get("/bench?as=public").status_code == 403
    assert browser.get("/api/bench?as=public").status_code == 403


def test_programs_are_told_the_same(browser: Client) -> None:
    told = browser.get("/api/bench").json()
    assert [section["name"] for section in told["sections"]] == list(LISTS)
    assert all(len(section["items"]) <= section["count"] for section in told["sections"])
    assert browser.get("/api/bench?list=elsewhere").status_code == 400
