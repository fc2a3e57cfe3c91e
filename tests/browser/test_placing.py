"""A piece is put in its place on the drawing of its volume: by mouse, touch and keys, or by typing."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page

from guardbook.records.placing import Placing
from tests.browser.looking import Opener, Served, check_fits, check_no_axe_violations, tab_to

# a spine lining of the law book: 56 x 33 mm, its tail-left corner at -28, 177.5, its front face turned away
LAW_BOOK, LINING = "host/N6Y9VM-C", "fragment/B89RYC-6"
PLACE = f"/{LAW_BOOK}/place?piece={LINING}"
# a piece on the inside of the upper board, where x runs to the left
PASTEDOWN = "/host/F46DQ0-3/place?piece=fragment/R36V3Q-Z"
# a piece of which only the leaf is recorded
UNPLACED = "/host/60CWNS-H/place?piece=fragment/76GK6B-F"
HEAR = """
() => {
  window.heard = [];
  for (const kind of ["input", "change"]) {
    document.addEventListener(kind, (event) => heard.push(`${kind} ${event.target.dataset.part ?? ""}`));
  }
}
"""


def opened(page: Page, address: str = PLACE) -> Page:
    """Open the page and wait for the drawing."""
    page.goto(address)
    page.locator(".placing-svg").wait_for()
    return page


def part(page: Page, name: str) -> Locator:
    return page.locator(f'[data-part="{name}"]')


def place(page: Page) -> tuple[str, ...]:
    return tuple(part(page, name).input_value() for name in ("x", "y", "rotation", "mirrored"))


def said(page: Page) -> str:
    return page.locator(".placing-said").inner_text()


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def middle(found: Locator) -> tuple[float, float]:
    found.scroll_into_view_if_needed()
    box = found.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Page, found: Locator, dx: float, dy: float) -> None:
    x, y = middle(found)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx / 2, y + dy / 2, steps=3)
    page.mouse.move(x + dx, y + dy, steps=3)


def piece(page: Page) -> Locator:
    return page.locator('[data-grab="piece"]')


def pixels_per_mm(page: Page) -> float:
    found: float = piece(page).evaluate("element => element.getBBox().width / 56")
    return found


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


def test_holes_are_marked_with_their_height_and_taken_away_again(page: Page) -> None:
    opened(page)
    press(page, "Only the piece")
    press(page, "Mark holes")
    x, y = middle(piece(page))
    for dy in (0, 40, -40):
        page.mouse.click(x, y + dy)
    page.mouse.click(x + 60, y + 10)
    holes = page.locator("[data-holes]")
    start, _, alone = holes.input_value().partition(" (")
    heights = [float(word) for word in start.removeprefix("x 28: ").split()]
    assert start.startswith("x 28: ")
    assert heights == sorted(heights)
    assert len(heights) == 3
    assert heights[1] == pytest.approx(16.5, abs=0.5)
    assert alone
    listed = page.locator(".placing-marked li")
    assert listed.count() == 4
    middle_one = f"{heights[1]:g}"
    listed.filter(has_text=f"{middle_one} mm from the tail").get_by_role("button").click()
    assert listed.count() == 3
    assert middle_one not in holes.input_value().split()


def test_a_typed_list_wins_and_is_drawn(page: Page) -> None:
    opened(page)
    page.locator("[data-holes]").fill("x 6,5: 25 5 12,5")
    assert page.locator(".trace-hole").count() == 3
    rows = page.locator(".placing-marked li span").all_inner_texts()
    assert [row.split(",")[1].strip() for row in rows] == [
        f"{height} mm from the tail and 6.5 mm from the left edge" for height in ("5", "12.5", "25")
    ]
    assert page.locator("[data-holes]").input_value() == "x 6,5: 25 5 12,5"


def test_a_touch_beside_the_piece_marks_nothing_and_says_so(page: Page) -> None:
    opened(page)
    press(page, "Mark holes")
    box = page.locator(".placing-svg").bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] - 30, box["y"] + box["height"] - 120)
    assert "That is not on the piece" in said(page)
    assert page.locator("[data-holes]").input_value() == ""


def test_folds_are_marked_across_and_along(page: Page) -> None:
    opened(page)
    press(page, "Only the piece")
    x, y = middle(piece(page))
    press(page, "Mark folds across")
    page.mouse.click(x, y)
    press(page, "Mark folds from tail to head")
    page.mouse.click(x, y + 20)
    along, across = page.locator("[data-folds]").input_value().rsplit(" ", 1)
    assert along == "x 28"
    assert float(across) == pytest.approx(16.5, abs=0.5)
    assert page.locator(".trace-fold").count() == 2


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


def test_a_place_outlives_a_closed_tab_until_it_is_saved(open_page: Opener, own_demo: Served) -> None:
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
    open_page: Opener, own_demo: Served, saved: Callable[[], Placing]
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
    open_page: Opener, own_demo: Served, saved: Callable[[], Placing], scripts: bool
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
