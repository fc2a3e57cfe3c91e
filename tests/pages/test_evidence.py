"""Dates, readings, examinations and options as pages and by the API, over the demo."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client

LAW_BOOK, TOLL_BOOK, REMOVAL = "host/N6Y9VM-C", "host/5JZSY8-3", "separation/W9V0WB-H"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        access = catalogue.access(Viewer.WORKSHOP)
        load_demo(access, if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def test_a_volume_tells_its_dates_with_their_reasons_on_a_timeline(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}/evidence").text
    assert page.count("<svg") == 2
    assert "Market prices of November 1846" in page


def test_a_settled_reading_names_what_was_seen(browser: Client) -> None:
    page = browser.get(f"/{TOLL_BOOK}/evidence").text
    assert "Settled: the cover held another book before" in page
    assert "34.0 mm apart" in page


def test_a_removal_tells_what_can_be_examined_only_now_with_its_cautions(browser: Client) -> None:
    page = browser.get(f"/{REMOVAL}/examinations").text
    assert "Only while it is lifted" in page
    assert "safety data sheet" in page


def test_options_lie_side_by_side_and_nothing_is_advised(browser: Client) -> None:
    (first, *_) = browser.get("/api/records?kind=decision").json()["hits"]
    short = "/".join(first["iri"].rsplit("/", 2)[-2:])
    page = browser.get(f"/{short}/decision").text
    assert "Leave in place" in page
    assert "should" not in page.partition("<main")[2].partition("</main")[0]


@pytest.mark.parametrize(
    "question", [f"{LAW_BOOK}/dates", f"{TOLL_BOOK}/evidence", f"{REMOVAL}/examinations"]
)
def test_the_api_answers_the_same_questions(browser: Client, question: str) -> None:
    reply = browser.get(f"/api/records/{question}")
    assert (reply.status_code, type(reply.json())) == (200, dict)


def test_what_has_no_such_answer_is_explained(browser: Client) -> None:
    assert browser.get(f"/api/records/{LAW_BOOK}/examinations").status_code == 400
