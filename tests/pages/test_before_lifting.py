"""The page before a removal, and going ahead from it without scripts."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.records.base import Record
from tests.api.client import Client
from tests.catalogue.shelf import save
from tests.demo.survey import GUARD, PASTEDOWN, PATCH, survey


@pytest.fixture(scope="module")
def records() -> list[Record]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(Viewer.WORKSHOP), if_empty=True)
        return survey(catalogue.access(Viewer.WORKSHOP))


@pytest.fixture
def browser(records: list[Record]) -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        save(catalogue.access(Viewer.WORKSHOP), *records)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def revision_in(page: str) -> str:
    found = re.search(r'name="revision" value="(\d+)"', page)
    assert found
    return found[1]


def send(browser: Client, page: str, **typed: str) -> tuple[int, str]:
    """Send the form of a page as a browser does."""
    sent = {"revision": revision_in(page), "who": "", "when": "", "because": "", **typed}
    reply = browser.request("POST", f"/{GUARD}/before-lifting", data=sent)
    return reply.status_code, reply.text or reply.headers["Location"]


def test_what_is_open_stands_in_the_order_of_what_presses(browser: Client) -> None:
    page = browser.get(f"/{PATCH}/before-lifting").text
    headings = re.findall(r'<h2 id="(\w+)"', page)
    assert headings == ["never", "later", "examinations", "consent", "ahead"]
    assert "safety data sheet" in page
    assert "Who gave written consent is not said." in page.partition('id="never"')[2].partition("<h2")[0]


def test_going_ahead_with_a_reason_is_kept_and_shown(browser: Client) -> None:
    page = browser.get(f"/{GUARD}/before-lifting").text
    status, _text = send(browser, page, when="24.11.2025", because="The joint is giving way.", who="Mirela")
    assert status == 303
    after = browser.get(f"/{GUARD}/before-lifting").text
    assert "The joint is giving way." in after
    assert "What it went ahead without" in after
    assert 'name="because"' not in after
    history = browser.get(f"/api/records/{GUARD}/history").json()
    assert (history[-1]["who"], history[-1]["whatFor"]) == ("Mirela", "lifted")


def test_what_was_typed_is_still_there_when_something_is_wanting(browser: Client) -> None:
    page = browser.get(f"/{GUARD}/before-lifting").text
    status, text = send(browser, page, when="someday", because="It presses & <presses>.", who="Mirela")
    assert status == 400
    assert 'value="someday"' in text
    assert "It presses &amp; &lt;presses&gt;." in text
    assert 'aria-describedby="when-wrong"' in text
    assert 'id="when-wrong"' in text


def test_the_page_of_a_piece_leads_to_the_page_before_its_removal(browser: Client) -> None:
    piece = browser.get(f"/api/records/{GUARD}").json()["piece"]
    short = "/".join(piece.rsplit("/", 2)[-2:])
    assert f'href="/{short}/before-lifting"' in browser.get(f"/{short}/evidence").text
    assert f'action="/{GUARD}/before-lifting"' in browser.get(f"/{short}/before-lifting").text


def test_the_public_is_shown_no_way_to_go_ahead_and_has_none(browser: Client) -> None:
    page = browser.get(f"/{PASTEDOWN}/before-lifting?as=public")
    assert page.status_code == 200
    assert "<button>Go ahead" not in page.text
    assert 'method="post"' not in page.text.partition("<main")[2]
    refused = browser.request("POST", f"/{PASTEDOWN}/before-lifting?as=public", data={"when": "2025-11-24"})
    assert refused.status_code == 403


def test_a_form_sent_by_another_site_is_refused(browser: Client) -> None:
    page = browser.get(f"/{GUARD}/before-lifting").text
    sent = {"revision": revision_in(page), "when": "2025-11-24", "because": "x"}
    foreign = {"Origin": "https://elsewhere.example", "Sec-Fetch-Site": "cross-site"}
    reply = browser.request("POST", f"/{GUARD}/before-lifting", data=sent, headers=foreign)
    assert reply.status_code == 403
    assert "Go ahead" in browser.get(f"/{GUARD}/before-lifting").text


def test_programs_are_told_the_same_and_can_go_ahead(browser: Client) -> None:
    at = f"/api/records/{GUARD}"
    told = browser.get(f"{at}/before-lifting").json()
    assert told["planned"] is True
    assert len(told["leftOpen"]) > 20
    tag = {"If-Match": browser.get(at).headers["ETag"]}
    without = browser.request("POST", f"{at}/lifted?when=2025-11-24", headers=tag)
    assert (without.status_code, without.json()["faults"][0]["where"]) == (400, "because")
    assert browser.request("POST", f"{at}/lifted?when=2025-11-24&because=x").status_code == 428
    done = browser.request("POST", f"{at}/lifted?when=2025-11-24&because=It+presses", headers=tag)
    assert done.status_code == 200
    assert browser.get(at).json()["wentAheadBecause"] == "It presses"
