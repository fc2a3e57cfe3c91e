"""The page that places a piece: open to everybody, saved with and without scripts, nothing lost."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from guardbook.records.placing import Placing
from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations
from tests.browser.placing import LAW_BOOK, LINING, PLACE, UNPLACED, opened, part, press


def test_where_the_volume_cannot_be_fetched_the_numbers_still_do_the_job(
    open_page: Opener, demo: Served
) -> None:
    page = open_page(demo, may_fail=("ERR_FAILED",))
    page.route("**/ground.json*", lambda route: route.abort())
    page.goto(PLACE)
    page.get_by_text("The volume cannot be drawn here (no connection)").wait_for()
    assert part(page, "x").input_value() == "-28.0"
    page.unroute("**/ground.json*")
    press(page, "Try again")
    page.locator(".placing-svg").wait_for()


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("address", [PLACE, UNPLACED])
def test_the_page_keeps_nobody_out_and_fits(
    open_page: Opener, demo: Served, width: int, address: str
) -> None:
    page = opened(open_page(demo, width=width), address)
    page.get_by_text("Move exactly").click()
    press(page, "Mark holes")
    check_fits(page)
    check_no_axe_violations(page)


def test_no_button_is_too_small_for_a_glove(page: Page) -> None:
    opened(page)
    page.get_by_text("Move exactly").click()
    page.locator("[data-holes]").fill("12 20")
    for button in page.locator(".placing button, .placing select, .placing summary").all():
        box = button.bounding_box()
        if box is not None:
            assert min(box["width"], box["height"]) >= 40, button.inner_text()


def test_a_place_outlives_a_closed_tab_until_it_is_saved(own_demo: Served, open_page: Opener) -> None:
    page = opened(open_page(own_demo))
    page.locator(".placing-svg").press("Shift+ArrowUp")
    page.get_by_text("Kept on this device, not saved yet").wait_for()
    page.close()
    page = opened(page.context.new_page())
    assert part(page, "y").input_value() == "187.5"
    page.locator(".placing-said", has_text="187.5 mm from the tail").wait_for()
    page.get_by_role("button", name="Save this place").click()
    page.get_by_text("Saved, as revision 2.").wait_for()
    page.get_by_text("Nothing typed yet").wait_for()
    page.wait_for_load_state("networkidle")


def test_a_place_is_sent_once_the_connection_is_back(
    own_demo: Served, open_page: Opener, saved: Callable[[], Placing]
) -> None:
    page = opened(open_page(own_demo, may_fail=("ERR_INTERNET_DISCONNECTED",)))
    page.context.set_offline(True)
    page.locator(".placing-svg").press("ArrowUp")
    page.get_by_role("button", name="Save this place").click()
    page.get_by_text("No connection: kept on this device").wait_for()
    page.context.set_offline(False)
    page.get_by_text("Saved, as revision 2.").wait_for()
    page.wait_for_load_state("networkidle")
    assert str(saved().positions[0].y) == "178.5"


@pytest.fixture
def saved(own_demo: Served) -> Callable[[], Placing]:
    """Give the placing of the lining as it is now kept."""

    def read() -> Placing:
        iris = own_demo.access.linked(own_demo.access.resolve(LINING), "piece")
        records = [own_demo.access.record(iri).record for iri in iris]
        (found,) = [one for one in records if isinstance(one, Placing) and one.host.endswith(LAW_BOOK)]
        return found

    return read


@pytest.mark.parametrize("scripts", [True, False])
def test_a_corrected_place_is_saved_with_or_without_scripts(
    own_demo: Served, open_page: Opener, saved: Callable[[], Placing], scripts: bool
) -> None:
    before = saved()
    page = open_page(own_demo, scripts=scripts)
    page.goto(PLACE)
    part(page, "x").fill("-27,5")
    page.get_by_role("textbox", name="Holes").fill("x 28: 12,5 20")
    page.get_by_role("button", name="Save this place").click()
    page.get_by_text("Saved, as revision 2.").wait_for()
    page.wait_for_load_state("networkidle")
    after = saved()
    assert str(after.positions[0].x) == "-27.5"
    assert after.positions[0].model_copy(update={"x": before.positions[0].x}) == before.positions[0]
    piece = own_demo.access.record(own_demo.access.resolve(LINING)).record
    heights = [str(one.y) for one in getattr(piece, "features", ()) if one.feature_kind == "sewing-hole"]
    assert heights[-2:] == ["12.5", "20"]
