"""Volumes at a stage, uses laid over each other and rejoined leaves, by the API over the demo."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree import ElementTree as ET

import pytest

from guardbook.__main__ import application
from guardbook.actions.load_demo import load_demo
from guardbook.catalogue.access import Viewer
from guardbook.catalogue.catalogue import open_catalogue
from tests.api.client import Client

LAW_BOOK, ACCOUNTS, TOLL_BOOK = "host/N6Y9VM-C", "host/F90AA2-P", "host/5JZSY8-3"
PSALTER = "carrier/1NE28B-M"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(Viewer.WORKSHOP), if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "application/json"})


def test_the_api_gives_the_same_as_data_and_as_drawings(browser: Client) -> None:
    at = f"/api/records/{LAW_BOOK}"
    assert [one["number"] for one in browser.get(f"{at}/stages").json()] == [1, 2, 3, 4, 5]
    assert browser.get(f"{at}/scene?stage=3").json()["stage"] == 3
    assert ET.fromstring(browser.get(f"{at}/scene?stage=3&form=svg").content).tag.endswith("svg")  # noqa: S314
    assert browser.get(f"{at}/scene?form=png").content.startswith(b"\x89PNG")
    over = browser.get(f"/api/records/{ACCOUNTS}/overlay?with={TOLL_BOOK}").json()
    assert {row["accounted"] for row in over["rows"]} - {""}
    leaf = browser.get(f"/api/records/{PSALTER}/rejoined").json()
    assert len(leaf["leaves"][0]["pieces"]) == 10
    assert browser.get(f"/api/records/{PSALTER}/rejoined?form=svg&leaf=9").status_code == 400
