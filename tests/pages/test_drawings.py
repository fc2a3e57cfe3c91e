"""Drawn volumes, uses laid over each other and rejoined leaves, as pages and by the API, over the demo."""

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
PSALTER, STRIP = "carrier/1NE28B-M", "fragment/B89RYC-6"


@pytest.fixture(scope="module")
def browser() -> Iterator[Client]:
    with open_catalogue(None) as catalogue:
        load_demo(catalogue.access(Viewer.WORKSHOP), if_empty=True)
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield Client(application(views.__getitem__), headers={"Accept": "text/html"})


def test_a_volume_is_gone_through_stage_by_stage_and_a_piece_leads_to_its_page(browser: Client) -> None:
    page = browser.get(f"/{LAW_BOOK}/drawn?stage=3&plane=textblock-spine").text
    assert page.count("<svg") == 2
    assert all(f"stage={number}" in page for number in range(1, 6))
    assert f'href="/{STRIP}"' in page


def test_removed_linings_are_back_in_their_places_at_the_stage_before(browser: Client) -> None:
    here = browser.get(f"/{LAW_BOOK}/drawn?stage=3&plane=textblock-spine").text
    gone = browser.get(f"/{LAW_BOOK}/drawn?stage=4&like=textblock-spine").text
    assert "Strip of a psalter, spine panel 1: panel spine lining" in here
    assert "Strip of a psalter, spine panel 1: panel spine lining" not in gone


def test_two_uses_of_a_cover_are_laid_over_each_other_with_the_table_beside(browser: Client) -> None:
    page = browser.get(f"/{ACCOUNTS}/laid-over?with={TOLL_BOOK}").text
    assert page.count("<svg") == 2
    assert "lacing hole" in page


def test_two_stages_of_one_volume_are_asked_for_from_its_drawing(browser: Client) -> None:
    form = browser.get(f"/{LAW_BOOK}/drawn?stage=3").text
    assert f'action="/{LAW_BOOK}/laid-over"' in form
    reply = browser.get(f"/{LAW_BOOK}/laid-over?stage=3&with=Q21-008&withStage=5")
    assert (reply.status_code, reply.text.count("<svg")) == (200, 2)
    assert browser.get(f"/{ACCOUNTS}/laid-over?stage=1&with=Q19-014+B&withStage=").status_code == 200


def test_the_leaf_of_a_carrier_is_shown_rejoined(browser: Client) -> None:
    page = browser.get(f"/{PSALTER}/rejoined").text
    assert page.count("<svg") == 2
    assert f'href="/{STRIP}"' in page


@pytest.mark.parametrize("path", [f"/{LAW_BOOK}/drawn?stage=x", f"/{LAW_BOOK}/drawn?plane=flap"])
def test_what_cannot_be_drawn_is_explained(browser: Client, path: str) -> None:
    assert browser.get(path).status_code == 400


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
