"""A plane of a volume to draw on by hand: its edges, its sewing stations, a rule in mm, nothing else."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import ceil, floor

from guardbook.binding.drawing.svg import NAMESPACE, Mark, mark, number
from guardbook.binding.scene_parts import SceneStation
from guardbook.binding.scene_planes import ScenePlane
from guardbook.exports.paper.fonts import SANS
from guardbook.exports.paper.said import term
from guardbook.records.base import natural_order
from guardbook.wording import _, decimal, decimals

# what a page leaves for a drawing, in mm
ROOM = (168.0, 200.0)
# scales that can be worked out in the head at the bench
SCALES = (1, 1.5, 2, 2.5, 3, 4, 5, 10, 20, 50)
MARGIN, TEXT_MM, RULER_MM = 11.0, 2.6, 100.0
Way = Callable[[float], float]
INK, SOFT, FAINT = "#1d1b19", "#5c564e", "#d8d2c8"


@dataclass(frozen=True)
class BlankPlane:
    """A drawing to be filled in: as SVG in mm of paper, what it shows, and at which scale."""

    svg: str
    caption: str
    alternative: str
    wide: float


def blank_plane(plane: ScenePlane) -> BlankPlane:
    """Draw a plane as large as goes on a page at one of the usual scales."""
    width, height = plane.right - plane.left, plane.top - plane.bottom
    scale = _scale(width, height)
    wide, high = width / scale + 2 * MARGIN, height / scale + 2 * MARGIN
    reversed_x = plane.plane.is_seen_reversed

    def across(x: float) -> float:
        return MARGIN + ((plane.right - x) if reversed_x else (x - plane.left)) / scale

    def down(y: float) -> float:
        return MARGIN + (plane.top - y) / scale

    marks = [
        mark(
            "rect",
            x=MARGIN,
            y=MARGIN,
            width=width / scale,
            height=height / scale,
            fill="none",
            stroke=INK,
            stroke_width=0.35,
        ),
        *_stations(plane.stations, down, wide),
        *_axes(plane, across, down, high, scale),
    ]
    name = _plane_name(plane)
    scaled = _("{plane}, scale 1 : {scale}.").format(plane=name, scale=decimal(f"{scale:g}"))
    caption = f"{scaled} {_zero_words(plane)}"
    return BlankPlane(_svg(wide, high, marks, caption), caption, _alternative(plane, name), wide)


def empty_sheet() -> BlankPlane:
    """Give squared paper, 5 mm to the square, for a volume that is not recorded yet."""
    wide, high = ROOM[0], 110.0
    marks = [
        mark("path", d=f"M{number(x * 5.0)} 0v{number(high)}", stroke=FAINT, stroke_width=0.15)
        for x in range(int(wide // 5) + 1)
    ]
    marks += [
        mark("path", d=f"M0 {number(y * 5.0)}h{number(wide)}", stroke=FAINT, stroke_width=0.15)
        for y in range(int(high // 5) + 1)
    ]
    caption = _("Squares of 5 mm. Write the scale beside the sketch.")
    return BlankPlane(_svg(wide, high, marks, caption), caption, caption, wide)


def ruler() -> BlankPlane:
    """Give a rule of 100 mm, to see whether a sheet was printed at its full size."""
    marks = [mark("path", d=f"M5 7h{number(RULER_MM)}", stroke=INK, stroke_width=0.25)]
    for at in range(int(RULER_MM) + 1):
        length = 4.0 if at % 10 == 0 else 2.8 if at % 5 == 0 else 1.8
        marks.append(
            mark("path", d=f"M{number(5.0 + at)} 7v{number(-length)}", stroke=INK, stroke_width=0.18)
        )
        if at % 10 == 0:
            marks.append(_text(5.0 + at, 10.2, str(at), anchor="middle"))
    marks.append(_text(5 + RULER_MM + 3, 7, "mm"))
    caption = _(
        "This rule is 100 mm long. If it is not, print the sheet again at 100 %, not fitted to the page."
    )
    return BlankPlane(_svg(RULER_MM + 15, 12, marks, caption), caption, caption, RULER_MM + 15)


def _scale(width: float, height: float) -> float:
    room = (ROOM[0] - 2 * MARGIN, ROOM[1] - 2 * MARGIN)
    needed = max(width / room[0], height / room[1])
    return next((scale for scale in SCALES if scale >= needed), ceil(needed / 50) * 50)


def _step(scale: float) -> int:
    """Give how far the figures of the rule are apart, so that they do not run into each other."""
    return next(step for step in (10, 20, 50, 100, 200, 500, 1000, 10**9) if step / scale >= 9)


def _between(low: float, high: float, step: int) -> range:
    return range(ceil(low / step) * step, floor(high / step) * step + 1, step)


def _axes(plane: ScenePlane, across: Way, down: Way, high: float, scale: float) -> Iterator[Mark]:
    """Put a rule along the tail and along the left edge, in mm of the object."""
    step = _step(scale)
    for x in _between(plane.left, plane.right, step):
        yield mark(
            "path", d=f"M{number(across(x))} {number(high - MARGIN)}v1.6", stroke=SOFT, stroke_width=0.2
        )
        yield _text(across(x), high - MARGIN + 4.4, str(x), anchor="middle")
    for y in _between(plane.bottom, plane.top, step):
        yield mark("path", d=f"M{number(MARGIN)} {number(down(y))}h-1.6", stroke=SOFT, stroke_width=0.2)
        yield _text(MARGIN - 2.2, down(y) + 0.9, str(y), anchor="end")
    if plane.left < 0 < plane.right:
        yield mark(
            "path",
            d=f"M{number(across(0))} {number(MARGIN)}V{number(high - MARGIN)}",
            stroke=SOFT,
            stroke_width=0.15,
            stroke_dasharray="2 1.4",
        )


def _zero_words(plane: ScenePlane) -> str:
    if plane.plane.plane == "fold":
        return _("Figures are mm from the fold, and from the tail.")
    if plane.plane.axes.centred:
        return _("Figures are mm from the middle of the spine, and from the tail.")
    return _("Figures are mm from the spine edge, and from the tail.")


def _stations(stations: tuple[SceneStation, ...], down: Way, wide: float) -> Iterator[Mark]:
    """Draw each sewing station across the plane, with its height at the right."""
    for station in sorted(stations, key=lambda one: (one.y, natural_order(one.id))):
        y = down(station.y)
        yield mark(
            "path",
            d=f"M{number(MARGIN)} {number(y)}H{number(wide - MARGIN + 1.6)}",
            stroke=SOFT,
            stroke_width=0.15,
            stroke_dasharray="0.6 1.2",
        )
        yield _text(wide - MARGIN + 2.2, y + 0.9, decimal(f"{station.y:g}"))


def _text(x: float, y: float, words: str, anchor: str | None = None) -> Mark:
    return mark("text", words, x=x, y=y, font_size=TEXT_MM, fill=SOFT, text_anchor=anchor)


def _svg(wide: float, high: float, marks: list[Mark], title: str) -> str:
    top = mark(
        "svg",
        mark("title", title),
        *marks,
        xmlns=NAMESPACE,
        width=f"{number(wide)}mm",
        height=f"{number(high)}mm",
        viewBox=f"0 0 {number(wide)} {number(high)}",
        role="img",
        font_family=f"{SANS}, sans-serif",
    )
    return str(top)


def _plane_name(plane: ScenePlane) -> str:
    name = plane.plane
    said = [term("plane", name.plane)]
    if name.gathering is not None:
        said.append(_("gathering {number}").format(number=name.gathering))
    if name.leaf is not None:
        said.append(_("leaf {number}").format(number=name.leaf))
    said += [term("leaf-side", name.leaf_side)] if name.leaf_side else []
    said += [term("side", name.side)] if name.side else []
    words = ", ".join(said)
    return words[:1].upper() + words[1:]


def _alternative(plane: ScenePlane, name: str) -> str:
    heights = decimals(f"{y:g}" for y in sorted(station.y for station in plane.stations))
    size = _("{plane}, empty, to be drawn on: {width} mm wide, {height} mm high.").format(
        plane=name,
        width=decimal(f"{plane.right - plane.left:g}"),
        height=decimal(f"{plane.top - plane.bottom:g}"),
    )
    stations = _("Sewing stations at {heights} mm from the tail.").format(heights=heights) if heights else ""
    return f"{size} {stations}".rstrip()
