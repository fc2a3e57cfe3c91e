"""The traces of two uses laid over each other are shown use by use, by check boxes that need no script."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client

LAID_OVER = "/host/F90AA2-P/laid-over?with=host/5JZSY8-3"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(Viewer.WORKSHOP), if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def drawn(browser: Client, asked: str = "") -> str:
    """Give the drawing for wide screens."""
    page = browser.get(LAID_OVER + asked).text
    return page.partition("<svg")[2].partition("</svg>")[0]


def numbers(drawing: str) -> set[str]:
    """Give the numbers of the traces that a drawing tells of in words."""
    return set(re.findall(r"^(?:.*>)?(\d+)\. .+\. Explained by", drawing, re.MULTILINE))


def test_all_traces_are_shown_until_somebody_chooses(browser: Client) -> None:
    page = browser.get(LAID_OVER).text
    boxes = re.findall(r'<input type="checkbox" name="show" value="(\w+)"( checked)?>', page)
    assert boxes == [("a", " checked"), ("b", " checked"), ("both", " checked")]
    assert len(numbers(drawn(browser))) == 33


def test_the_traces_of_one_use_are_shown_alone_and_keep_their_numbers(browser: Client) -> None:
    whole = numbers(drawn(browser))
    parts = [numbers(drawn(browser, f"&chosen=1&show={use}")) for use in ("a", "b", "both")]
    assert [len(part) for part in parts] == [15, 17, 1]
    assert set.union(*parts) == whole


def test_rows_are_measured_only_where_their_holes_are_shown(browser: Client) -> None:
    assert {"34 mm", "46 mm"} == set(re.findall(r"\b(34 mm|46 mm):", drawn(browser)))
    assert set(re.findall(r"\b(34 mm|46 mm):", drawn(browser, "&chosen=1&show=b"))) == {"46 mm"}


def test_where_nothing_is_checked_no_trace_is_shown_and_the_boxes_stay(browser: Client) -> None:
    page = browser.get(f"{LAID_OVER}&chosen=1").text
    assert page.count('name="show"') == 3
    assert 'value="a" checked' not in page
    assert numbers(drawn(browser, "&chosen=1")) == set()


def test_what_explains_a_trace_stands_before_what_the_trace_is(browser: Client) -> None:
    table = browser.get(LAID_OVER).text.partition('<table class="uses">')[2].partition("</table>")[0]
    heads = re.findall(r'<th scope="col">([^<]+)</th>', table)
    assert heads == ["Number", "Explained by", "Trace", "Where", "Why A", "Why B"]
    uses = re.findall(r'data-column="Explained by"><strong>([^<]+)</strong>', table)
    assert uses == ["A"] * 15 + ["both"] + ["B"] * 17
