"""What the drawing reckons in the browser is what the catalogue reckons: places, numbers, lists of holes."""

from __future__ import annotations

import random
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
import shapely
from playwright.sync_api import Page

from guardbook.binding.outlines import Shape
from guardbook.binding.planes import PlaneName
from guardbook.binding.transforms import of_position
from guardbook.intake import lists
from guardbook.records.placing import Position
from guardbook.units import length_mm

WITHIN_MM = 1e-9
HOW_MANY = 600
PLANES = {False: {"plane": "textblock-spine"}, True: {"plane": "board-inside", "side": "upper"}}

IN_THE_BROWSER = """
async (cases) => {
  const { mapping, mapped, inverse, mirrorWidthOf, ringsOf } = await import("/static/placing-geometry.js");
  return cases.map(({ position, width, height, outline, reversed, points }) => {
    const rings = ringsOf(width, height, outline);
    const way = mapping(position, mirrorWidthOf(rings, width), reversed);
    if (!way) return null;
    const there = points.map((point) => mapped(way, point));
    return { there, back: there.map((point) => mapped(inverse(way), point)) };
  });
}
"""


@pytest.fixture
def asked(page: Page) -> Callable[..., Any]:
    """Run a function of the drawing's own scripts in the page."""
    page.goto("/terms")
    return page.evaluate


def cases() -> list[dict[str, Any]]:
    """Draw places of every kind: right angles and odd ones, below zero, mirrored, shrunk, seen reversed."""
    draw = random.Random(1541)
    made = []
    for _ in range(HOW_MANY):
        angle = draw.choice([0, 90, 180, 270, -90, 360, -360, round(draw.uniform(-360, 360), 2)])
        width = round(draw.uniform(0.5, 900), 2)
        height = round(draw.uniform(0.5, 900), 2)
        position = {
            "x": round(draw.uniform(-900, 900), 2),
            "y": round(draw.uniform(-900, 900), 2),
            "rotation": draw.choice([None, angle, angle]),
            "mirrored": draw.random() < 0.5,
            "scale": draw.choice([None, round(draw.uniform(0.8, 1.2), 3)]),
        }
        outline = draw.choice(["", "", f"POLYGON ((3 1, {width} 0, {width} {height}, 3 {height}, 3 1))"])
        points = [[draw.uniform(0, width), draw.uniform(0, height)] for _ in range(3)]
        made.append(
            {
                "position": position,
                "width": width,
                "height": height,
                "outline": outline,
                "reversed": draw.random() < 0.5,
                "points": points,
            }
        )
    return made


def test_a_piece_lies_in_the_browser_where_the_catalogue_has_it(asked: Callable[..., Any]) -> None:
    drawn = cases()
    for case, found in zip(drawn, asked(IN_THE_BROWSER, drawn), strict=True):
        plane = PLANES[case["reversed"]]
        said = {name: value for name, value in case["position"].items() if value is not None}
        position = Position.model_validate({"id": "#position-1", **plane, **said})
        shape = Shape(Decimal(str(case["height"])), Decimal(str(case["width"])), case["outline"] or None)
        way = shape.mapping(position)
        assert way is not None
        for point, there, back in zip(case["points"], found["there"], found["back"], strict=True):
            assert there == pytest.approx(way.point(*point), abs=WITHIN_MM)
            assert back == pytest.approx(point, abs=WITHIN_MM * 1e3)


def test_the_planes_of_the_cases_are_seen_as_they_say() -> None:
    assert PlaneName("board-inside", side="upper").is_seen_reversed
    assert not PlaneName("textblock-spine").is_seen_reversed


def test_a_place_without_width_is_known_only_where_nothing_is_mirrored(asked: Callable[..., Any]) -> None:
    bare = {"x": 3, "y": 4, "rotation": 90, "mirrored": False, "scale": None}
    case = {"width": None, "height": None, "outline": "", "reversed": False, "points": [[2, 0]]}
    turned = {**case, "position": {**bare, "mirrored": True}}
    found = asked(IN_THE_BROWSER, [{**case, "position": bare}, turned])
    assert found[0]["there"] == [[3, 6]]
    assert found[1] is None
    position = Position(id="#position-1", x=Decimal(3), y=Decimal(4), mirrored=True)
    assert of_position(position, None) is None


LENGTHS = ["45.5", "45,5", "4,50 cm", "12", "-3,5", "−3.5", "1.234,5", "1 in", ".5", "12 mm", "0,001 m"]
NO_LENGTHS = ["", "wide", "12 x 4", "1,2,3", "12 parsecs", "1e3"]
HOLES = [
    "12 48.5 97",
    "12; 48,5; 97",
    "12,48,97",
    "x 30: 12 48.5 97",
    "x 30: 12 97 (34, 60)",
    "(34; 60,5) (1.5, 2)",
    "12 97 | x=34,5: 60",
    "X 3:1",
]
NO_HOLES = ["12 broad 97", "x wide: 12", "(12)", "(1, 2, 3)"]
FOLDS = ["97", "40 97", "x 30", "x=12,5 40", "(0, 40)-(20, 60)", "40; x 3; (1,5; 2)-(3; 4)", "40, 97"]

READ_LENGTHS = """
async texts => {
  const { lengthIn } = await import("/static/placing-numbers.js");
  return texts.map((text) => lengthIn(text));
}
"""
READ_HOLES = """
async texts => {
  const { holesIn, holesWritten } = await import("/static/placing-lists.js");
  return texts.map((text) => {
    const { holes, wrong } = holesIn(text);
    return { holes, wrong, written: [holesWritten(holes, false), holesWritten(holes, true)] };
  });
}
"""
READ_FOLDS = """
async texts => {
  const { foldsIn, foldEnds, foldsWritten } = await import("/static/placing-lists.js");
  const own = { left: 0, bottom: 0, right: 20, top: 120 };
  const ends = (text) => foldsIn(text).folds.map((fold) => foldEnds(fold, own).flat());
  const written = (text) => [false, true].map((comma) => foldsWritten(foldsIn(text).folds, comma));
  return texts.map((text) => [text, ...written(text)].map(ends));
}
"""


def test_a_length_is_read_alike(asked: Callable[..., Any]) -> None:
    wanted = [pytest.approx(float(length_mm(text).value), abs=WITHIN_MM) for text in LENGTHS]
    assert asked(READ_LENGTHS, LENGTHS) == wanted


def test_what_is_no_length_is_none_in_either(asked: Callable[..., Any]) -> None:
    assert set(asked(READ_LENGTHS, NO_LENGTHS)) == {None}
    for text in NO_LENGTHS:
        with pytest.raises(ValueError, match="such as"):
            length_mm(text)


def told(listed: str) -> list[tuple[int, float, float | None]]:
    """Give what a list of holes says: series, height, distance from the left edge."""
    parts = lists.holes(listed, "sewing-hole").parts
    return [(part["inSeries"], float(part["y"]), float(part["x"]) if "x" in part else None) for part in parts]


def test_a_list_of_holes_is_read_alike(asked: Callable[..., Any]) -> None:
    for text, found in zip(HOLES, asked(READ_HOLES, HOLES), strict=True):
        assert [(hole["row"], hole["y"], hole["x"]) for hole in found["holes"]] == told(text)
        assert found["wrong"] == []


def test_a_list_that_the_drawing_writes_says_the_same(asked: Callable[..., Any]) -> None:
    for text, found in zip(HOLES, asked(READ_HOLES, HOLES), strict=True):
        for written in found["written"]:
            assert sorted(map(str, told(written))) == sorted(map(str, told(text)))


def test_holes_are_written_from_the_tail(asked: Callable[..., Any]) -> None:
    (found,) = asked(READ_HOLES, ["x 30: 97 12,5 48 (34; 60) (31; 2,5)"])
    assert found["written"] == ["x 30: 12.5 48 97 (31, 2.5) (34, 60)", "x 30: 12,5 48 97 (31; 2,5) (34; 60)"]


def test_a_list_of_folds_is_read_alike(asked: Callable[..., Any]) -> None:
    names = ("x", "y", "toX", "toY")
    for text, (typed, *written) in zip(FOLDS, asked(READ_FOLDS, FOLDS), strict=True):
        assert typed == [
            [float(part[name]) for name in names] for part in lists.folds(text, "20", "120").parts
        ]
        assert [sorted(one) for one in written] == [sorted(typed)] * 2


def test_what_cannot_be_read_in_a_list_is_told(asked: Callable[..., Any]) -> None:
    assert all(found["wrong"] for found in asked(READ_HOLES, NO_HOLES))
    for text in NO_HOLES:
        with pytest.raises(ValueError, match="such as"):
            lists.holes(text, "sewing-hole")


def test_turning_and_flipping_on_the_spot_keep_the_middle(asked: Callable[..., Any]) -> None:
    script = """async (cases) => {
      const { keptInPlace } = await import("/static/placing-geometry.js");
      return cases.map(({ position, width, height, reversed, changes }) =>
        keptInPlace(position, changes, width, reversed, [width / 2, height / 2]));
    }"""
    draw = random.Random(7)
    drawn = [
        {**case, "changes": {"rotation": draw.uniform(-180, 180), "mirrored": draw.random() < 0.5}}
        for case in cases()[:100]
    ]
    for case, found in zip(drawn, asked(script, drawn), strict=True):
        middle = shapely.Point(case["width"] / 2, case["height"] / 2)
        before, after = (
            Shape(Decimal(str(case["height"])), Decimal(str(case["width"]))).mapping(
                Position.model_validate(
                    {"id": "#position-1", **PLANES[case["reversed"]], **_said(one)},
                )
            )
            for one in (case["position"], found)
        )
        assert before is not None
        assert after is not None
        assert after.shape(middle).distance(before.shape(middle)) < WITHIN_MM * 1e3


def _said(position: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in position.items() if value is not None}
