"""A stranger registers a strip that was taken out: by mouse, by keyboard, without scripts, on a tablet."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.records.fragment import Fragment
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations
from tests.browser.registering import BEFORE, Hand, photograph, register, wait_until_saved

# what a browser says of a form that comes back, and of a network that is cut
REFUSED = ("status of 422",)
CUT = ("ERR_INTERNET_DISCONNECTED", "status of 422")
TEN_MINUTES = 600
# clicks and keys that registering a strip takes, by mouse and by the keyboard alone (docs/measurements.md)
MOST = {True: (36, 120), False: (2, 440)}


@pytest.fixture(autouse=True)
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let photographs be kept in a folder of the test's own."""
    here = replace(settings.current(), data=tmp_path)
    monkeypatch.setattr(settings, "current", lambda: here)
    return tmp_path


def registered(access: Access) -> tuple[Fragment, Placing, Separation]:
    """Give what was registered: the newest piece, placing and separation."""
    newest = [
        access.record([*access.iris(kind)][-1]).record for kind in ("fragment", "placing", "separation")
    ]
    piece, placing, separation = newest
    assert isinstance(piece, Fragment)
    assert isinstance(placing, Placing)
    assert isinstance(separation, Separation)
    assert placing.piece == separation.piece == piece.id
    return piece, placing, separation


def check_registered(access: Access) -> Fragment:
    piece, placing, separation = registered(access)
    assert (piece.title, str(piece.height), piece.seen_when) == (
        "Strip of a missal, panel 4",
        "33",
        "2025-11-03",
    )
    assert [(str(one.x), str(one.y)) for one in piece.features] == [("10", "5"), ("10", "20")]
    position = placing.positions[0]
    assert (position.plane, str(position.x), str(position.y)) == ("textblock-spine", "-28", "120")
    assert (separation.when, separation.housing, separation.box_location) == ("2025-11-04", "box", "Drawer 3")
    assert separation.undoes == placing.id
    return piece


@pytest.mark.parametrize("has_mouse", [True, False], ids=["by mouse", "by keyboard alone"])
def test_a_removed_strip_is_registered_in_minutes_and_found_again(
    own_demo: Served, open_page: Opener, own_data: Path, has_mouse: bool
) -> None:
    page = open_page(own_demo)
    hand = Hand(page, has_mouse)
    begun = time.monotonic()
    register(hand)
    assert time.monotonic() - begun < TEN_MINUTES
    most_clicks, most_keys = MOST[has_mouse]
    assert hand.clicks <= most_clicks
    assert hand.keys <= most_keys
    piece = check_registered(own_demo.access)
    assert len(list((own_data / "images").iterdir())) == 1
    expect(page.get_by_role("link", name="Print its label (PDF)")).to_be_visible()
    page.goto("/search?q=missal+panel+4")
    expect(page.get_by_role("main").get_by_role("link", name=str(piece.title)).first).to_be_visible()


def test_it_is_registered_without_scripts_on_a_narrow_screen(own_demo: Served, open_page: Opener) -> None:
    page = open_page(own_demo, scripts=False, width=390)
    register(Hand(page, has_mouse=True))
    check_registered(own_demo.access)


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize(
    "path",
    [
        "/register",
        "/register/piece?volume=N6Y9VM-C",
        "/register/piece?volume=new",
        "/register/piece?volume=unknown",
        "/fragment/B89RYC-6/edit",
        "/host/N6Y9VM-C/edit",
        "/new/decision",
    ],
)
def test_forms_keep_nobody_out_and_fit_the_window(
    open_page: Opener, demo: Served, path: str, width: int
) -> None:
    page = open_page(demo, width=width)
    page.goto(path)
    for folded in page.locator("details").all():
        folded.evaluate("element => { element.removeAttribute('name'); element.open = true }")
    check_no_axe_violations(page)
    check_fits(page)


def test_a_form_with_faults_keeps_nobody_out_and_begins_at_the_list_of_them(
    own_demo: Served, open_page: Opener
) -> None:
    page = open_page(own_demo, may_fail=REFUSED)
    page.goto("/fragment/B89RYC-6/edit")
    page.locator("#fragment-height").fill("tall")
    page.locator("[data-save]").click()
    expect(page.locator("#wrong")).to_be_focused()
    check_no_axe_violations(page)
    page.get_by_role("link", name="Height (mm)").click()
    expect(page.locator("#fragment-height")).to_have_value("tall")


def fill_some(page: Page) -> None:
    page.goto("/register/piece?volume=N6Y9VM-C")
    page.locator("#fragment-title").fill("Strip in the storm")
    page.locator("#fragment-extent").select_option("strip")


def check_photograph_is_chosen(page: Page) -> None:
    """Hold the form to having its photograph back, which takes the browser's store a moment."""
    chosen = page.locator("#photographs-in-place")
    latest = time.monotonic() + 10
    while not (files := chosen.evaluate("input => input.files.length")) and time.monotonic() < latest:
        page.wait_for_timeout(50)
    assert files == 1


def test_what_is_typed_survives_a_closed_tab_with_the_photographs(
    own_demo: Served, open_page: Opener, own_data: Path
) -> None:
    page = open_page(own_demo)
    fill_some(page)
    page.get_by_role("link", name="Go on to: Before lifting").click()
    for identity, text in BEFORE[:3]:
        page.locator(f"#{identity}").fill(text)
    page.locator("[data-rows='placing.positions'] [data-add]").click()
    page.locator("#placing-positions-1-panel").evaluate(
        "element => element.closest('details')?.setAttribute('open', '')"
    )
    page.locator("#placing-positions-1-panel").fill("4")
    page.locator("#photographs-in-place").set_input_files([photograph()])
    expect(page.locator("[data-draft-state='kept']")).to_be_visible()
    page.wait_for_timeout(300)
    page.close()
    again = page.context.new_page()
    again.goto("/register")
    expect(again.get_by_text("Strip in the storm")).to_be_visible()
    again.get_by_role("link", name="Go on with it").click()
    expect(again.locator("#fragment-title")).to_have_value("Strip in the storm")
    expect(again.locator("#placing-positions-1-panel")).to_have_value("4")
    check_photograph_is_chosen(again)
    again.locator("[data-save]").click()
    wait_until_saved(again)
    piece = own_demo.access.record([*own_demo.access.iris("fragment")][-1]).record
    assert piece.title == "Strip in the storm"
    assert len(list((own_data / "images").iterdir())) == 1
    again.goto("/register")
    expect(again.get_by_text("Strip in the storm")).to_have_count(0)


def test_a_draft_can_be_thrown_away(own_demo: Served, open_page: Opener) -> None:
    page = open_page(own_demo)
    page.goto("/fragment/B89RYC-6/edit")
    page.locator("#fragment-title").fill("Another title")
    page.reload()
    expect(page.locator("#fragment-title")).to_have_value("Another title")
    page.get_by_role("button", name="Throw it away").click()
    expect(page.locator("#fragment-title")).to_have_value("Strip of a psalter, spine panel 1")
    expect(page.locator("[data-draft-state='unchanged']")).to_be_attached()


def test_a_form_sent_while_the_network_is_cut_arrives_when_it_is_back(
    own_demo: Served, open_page: Opener
) -> None:
    page = open_page(own_demo, may_fail=CUT)
    fill_some(page)
    page.context.set_offline(True)
    page.locator("#fragment-workshopNumber").fill("Q25-999")
    page.locator("[data-save]").click()
    expect(page.locator("[data-draft-state='offline']")).to_be_visible()
    assert "sent when the connection is back" in page.locator("[data-draft-state]").inner_text()
    page.locator("#fragment-note").evaluate("element => element.closest('.step').open = true")
    page.context.set_offline(False)
    wait_until_saved(page)
    piece = own_demo.access.record([*own_demo.access.iris("fragment")][-1]).record
    assert (piece.title, piece.workshop_number) == ("Strip in the storm", "Q25-999")


def test_what_is_to_be_mended_comes_back_with_the_photographs_still_chosen(
    own_demo: Served, open_page: Opener
) -> None:
    page = open_page(own_demo, may_fail=REFUSED)
    fill_some(page)
    page.get_by_role("link", name="Go on to: Before lifting").click()
    page.locator("#fragment-height").fill("tall")
    page.locator("#photographs-in-place").set_input_files([photograph()])
    page.wait_for_timeout(300)
    page.locator("[data-save]").click()
    expect(page.locator("#wrong")).to_be_visible()
    check_photograph_is_chosen(page)
    page.locator("#fragment-height").fill("33")
    page.locator("[data-save]").click()
    wait_until_saved(page)
    assert (
        own_demo.access.record([*own_demo.access.iris("image")][-1]).record.model_dump()["moment"]
        == "in-place"
    )


def test_what_was_understood_is_shown_beside_the_input(page: Page) -> None:
    page.goto("/fragment/B89RYC-6/edit")
    page.locator("#fragment-height").fill("½ in")
    page.locator("#fragment-width").click()
    expect(page.locator("#fragment-height-read")).to_have_text("read as: 12.70 mm")
    page.locator("#fragment-width").fill("wide")
    page.locator("#fragment-height").click()
    expect(page.locator("#fragment-width-read")).to_contain_text("Expected one length")


def test_a_row_is_added_and_taken_out_without_asking_the_server(page: Page) -> None:
    page.goto("/host/N6Y9VM-C/edit")
    rows = page.locator("[data-rows='host.stages'] [data-row]")
    before = rows.count()
    page.locator("[data-rows='host.stages'] [data-add]").click()
    expect(rows).to_have_count(before + 1)
    expect(rows.last.locator("input:not([type=hidden]), select").first).to_be_focused()
    rows.last.get_by_role("button", name="Take this out").click()
    expect(rows).to_have_count(before)
    expect(page.locator("[data-draft-state='unchanged']")).to_be_attached()


def test_a_press_is_not_lost_where_the_page_moves_under_the_hand(own_demo: Served, open_page: Opener) -> None:
    page = open_page(own_demo)
    fill_some(page)
    link = page.get_by_role("link", name="Go on to: Before lifting")
    box = link.bounding_box()
    assert box
    page.mouse.move(box["x"] + 5, box["y"] + 5)
    page.mouse.down()
    page.evaluate("document.querySelector('h1').style.setProperty('margin-bottom', '200px')")
    page.mouse.up()
    expect(page.locator("#fragment-height")).to_be_visible()
