"""A piece is put in its place on the drawing of its volume: by mouse, touch and keys, or by typing."""

from __future__ import annotations

import pytest
import shapely
from playwright.sync_api import Locator, Page

from tests.browser.looking import Opener, Served, tab_to
from tests.browser.placing import (
    PASTEDOWN,
    UNPLACED,
    drag,
    middle,
    opened,
    part,
    piece,
    pixels_per_mm,
    place,
    press,
    said,
)

HEAR = """
() => {
  window.heard = [];
  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => heard.push(`${kind} ${event.target.dataset.part ?? ""}`));
  }
}
"""


def test_the_drawing_starts_from_what_is_recorded(page: Page) -> None:
    opened(page)
    assert said(page).startswith("The back of the text block")
    assert "177.5 mm from the tail" in said(page)
    assert place(page) == ("-28.0", "177.5", "0.0", "true")


def test_a_dragged_piece_is_laid_against_a_line_that_is_shown_and_the_inputs_follow(page: Page) -> None:
    opened(page)
    page.evaluate(HEAR)
    scale = pixels_per_mm(page)
    # 2 px past the place where the tail edges meet
    drag(page, piece(page), 0, 177.5 * scale + 2)
    assert "the centre of the spine" in (page.locator(".guides").text_content() or "")
    page.mouse.up()
    assert (part(page, "x").input_value(), part(page, "y").input_value()) == ("-28.0", "0")
    heard = page.evaluate("heard")
    assert {"input y", "change y"} <= set(heard)
    assert heard.index("input y") < heard.index("change y")
    assert page.locator(".guide").count() == 0
    assert "0 mm from the tail" in said(page)


def test_without_snapping_a_piece_lies_where_it_was_dropped(page: Page) -> None:
    opened(page)
    page.get_by_text("Move exactly").click()
    press(page, "Snap to lines")
    scale = pixels_per_mm(page)
    drag(page, piece(page), 3 * scale, 0)
    assert page.locator(".guide").count() == 0
    page.mouse.up()
    assert abs(float(part(page, "x").input_value()) + 25) <= 0.5


def test_a_piece_is_turned_by_its_handle_and_eases_into_right_angles(page: Page) -> None:
    opened(page)
    handle_x, handle_y = middle(page.locator('[data-grab="turn"]'))
    x, y = middle(piece(page))
    # the handle stands below the piece here; a quarter of a turn anticlockwise brings it to the right
    drag(page, page.locator('[data-grab="turn"]'), x - handle_x + abs(handle_y - y), y - handle_y + 2)
    page.mouse.up()
    assert part(page, "rotation").input_value() == "90"
    assert "turned 90° anticlockwise" in said(page)
    # its middle, 28 mm across and 16.5 mm up from its corner, is where it was; so the corner is not
    corner = float(part(page, "x").input_value()), float(part(page, "y").input_value())
    assert corner == pytest.approx((0 + 16.5, 177.5 + 16.5 - 28), abs=0.01)


def test_flipping_keeps_a_piece_on_the_spot(page: Page) -> None:
    opened(page)
    before = piece(page).bounding_box()
    press(page, "Flip")
    assert place(page) == ("-28.0", "177.5", "0.0", "false")
    assert piece(page).bounding_box() == before
    assert "front face turned away" not in said(page)


def test_every_step_can_be_taken_back_and_done_again_to_the_last_digit(page: Page) -> None:
    opened(page)
    start = place(page)
    press(page, "90° left")
    press(page, "Flip")
    page.locator(".placing-svg").press("ArrowUp")
    end = place(page)
    for _ in range(3):
        press(page, "Undo")
    assert place(page) == start
    assert page.get_by_role("button", name="Undo").get_attribute("aria-disabled") == "true"
    for _ in range(3):
        press(page, "Do again")
    assert place(page) == end


def test_typed_numbers_win_and_keep_their_decimal_comma(page: Page) -> None:
    opened(page)
    part(page, "x").fill("-12,50")
    part(page, "y").fill("4 cm")
    part(page, "y").press("Tab")
    assert (part(page, "x").input_value(), part(page, "y").input_value()) == ("-12,50", "4 cm")
    page.locator(".placing-said", has_text="40 mm from the tail").wait_for()
    page.locator(".placing-svg").press("Alt+ArrowRight")
    assert (part(page, "x").input_value(), part(page, "y").input_value()) == ("-12,4", "4 cm")


def test_what_is_no_number_is_told_and_kept(page: Page) -> None:
    opened(page)
    part(page, "x").fill("12 or so")
    assert "“12 or so” is not a number" in page.locator(".placing-note").inner_text()
    press(page, "Flip")
    assert "“12 or so” is not a number" in said(page)
    assert place(page) == ("12 or so", "177.5", "0.0", "true")


@pytest.mark.parametrize(
    ("keys", "moved"),
    [
        ("ArrowRight", (1, 0)),
        ("Shift+ArrowUp", (0, 10)),
        ("Alt+ArrowDown", (0, -0.1)),
        ("ArrowLeft", (-1, 0)),
    ],
)
def test_arrow_keys_nudge_by_so_many_millimetres(page: Page, keys: str, moved: tuple[float, float]) -> None:
    opened(page)
    page.locator(".placing-svg").press(keys)
    found = float(part(page, "x").input_value()), float(part(page, "y").input_value())
    assert found == pytest.approx((-28 + moved[0], 177.5 + moved[1]))


def test_right_is_to_the_right_also_where_x_runs_to_the_left(page: Page) -> None:
    opened(page, PASTEDOWN)
    x, before = float(part(page, "x").input_value()), middle(piece(page))
    page.locator(".placing-svg").press("Shift+ArrowRight")
    assert float(part(page, "x").input_value()) == x - 10
    assert middle(piece(page))[0] > before[0]


def test_all_of_it_is_done_by_the_keyboard_alone(page: Page) -> None:
    opened(page)
    tab_to(page, page.get_by_role("button", name="The inside of the cover"))
    page.keyboard.press("Enter")
    assert part(page, "plane").input_value() == "cover-inside"
    tab_to(page, page.get_by_text("Move exactly"))
    page.keyboard.press("Enter")
    against = page.get_by_role("combobox", name="Lay it against")
    tab_to(page, against)
    against.select_option(label="edge towards the head")
    tab_to(page, page.get_by_role("button", name="Lay", exact=True))
    page.keyboard.press("Enter")
    assert part(page, "y").input_value() == "187"
    assert said(page).startswith("Laid against: edge towards the head.")
    tab_to(page, page.locator(".placing-svg"), back=True)
    page.keyboard.press("r")
    page.keyboard.press("[")
    assert part(page, "rotation").input_value() == "91"


def test_a_piece_that_was_never_placed_says_nothing_until_it_is_moved(page: Page) -> None:
    opened(page, UNPLACED)
    assert (part(page, "x").input_value(), part(page, "y").input_value()) == ("", "")
    assert "Not placed yet" in page.locator(".placing-note").inner_text()
    drag(page, piece(page), 40, -30)
    page.mouse.up()
    assert float(part(page, "x").input_value()) > 0
    assert page.locator(".placing-note").is_hidden()
    press(page, "Undo")
    assert (part(page, "x").input_value(), part(page, "y").input_value()) == ("", "")


def test_a_plane_on_which_nothing_lies_yet_is_drawn_too(page: Page) -> None:
    opened(page)
    part(page, "plane").select_option("fold")
    assert page.locator(".placing-svg").is_hidden()
    part(page, "gathering").fill("7")
    part(page, "gathering").press("Tab")
    button = page.get_by_role("button", name="The fold of gathering 7")
    button.wait_for()
    assert button.get_attribute("aria-pressed") == "true"
    against = page.get_by_role("combobox", name="Lay it against", include_hidden=True)
    assert "kettle stitch" in (against.text_content() or "")


def test_a_finger_moves_the_piece_and_scrolls_beside_it(open_page: Opener, demo: Served) -> None:
    page = opened(open_page(demo, width=390))
    page.locator(".placing-svg").scroll_into_view_if_needed()
    touch = page.context.new_cdp_session(page)

    def swipe(x: float, y: float, dy: float) -> None:
        spots = [[{"x": x, "y": y + dy * step / 8}] for step in range(9)]
        for kind, spot in zip(["touchStart"] + ["touchMove"] * 8 + ["touchEnd"], [*spots, []], strict=True):
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": spot})
            page.wait_for_timeout(20)

    scrolled = page.evaluate("scrollY")
    swipe(*middle(piece(page)), 60)
    assert float(part(page, "y").input_value()) < 170
    assert page.evaluate("scrollY") == scrolled
    box = page.locator(".placing-stage").bounding_box()
    assert box is not None
    moved = part(page, "y").input_value()
    swipe(box["x"] + 60, box["y"] + box["height"] - 60, -150)
    page.wait_for_timeout(300)
    assert page.evaluate("scrollY") > scrolled + 20
    assert part(page, "y").input_value() == moved


def test_the_name_of_the_piece_leaves_the_measure_beside_it_in_sight(demo: Served, open_page: Opener) -> None:
    page = opened(open_page(demo), PASTEDOWN)
    places = (page.locator(".label-piece"), *page.locator("line.distance").all())
    name, *measures = (shapely.box(*edges(found)) for found in places)
    assert len(measures) == 2
    assert not any(name.intersects(measure) for measure in measures)


def edges(found: Locator) -> tuple[float, float, float, float]:
    """Give left, top, right, bottom on the screen."""
    box = found.bounding_box()
    assert box is not None
    return box["x"], box["y"], box["x"] + box["width"], box["y"] + box["height"]
