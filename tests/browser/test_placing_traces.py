"""Holes and folds are marked on a piece with a touch, or typed as lists."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.placing import middle, opened, piece, press, said


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
