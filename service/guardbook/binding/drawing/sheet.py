"""The sheet of a drawing: its text size, where the drawing and the legend go, title and text alternative.

One unit of the viewBox is one millimetre of the object, so that a drawing printed as wide as it says is at
full size. The text is sized by the width of the sheet, since sheets are shown as wide as there is room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guardbook.binding.drawing.legend import Section, legend
from guardbook.binding.drawing.lettering import FAMILY, LEADING, lines_of, paragraph, spoken
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.strokes import INK, PAPER
from guardbook.binding.drawing.svg import NAMESPACE, Mark, mark, number

# how many text sizes wide a sheet is, and how much higher than wide the drawing on it may be
_WIDE, _WIDE_HIGH = 84.0, 0.98
_NARROW, _NARROW_HIGH = 36.0, 1.75
# a legend beside the drawing is at least so many text sizes wide
_BESIDE = 30.0
_BORDER = 1.2
_TITLE = 1.25


@dataclass(frozen=True, kw_only=True)
class Margins:
    """Room round a drawing for its axes and letters, in parts of the text size."""

    left: float
    right: float
    top: float
    bottom: float


@dataclass(frozen=True, kw_only=True)
class Plan:
    """Where things go on a sheet, in mm: the drawing's own corner, and the column of the legend."""

    unit: float
    width: float
    x: float
    y: float
    heading: tuple[str, ...]
    below: tuple[str, ...]
    legend_x: float
    legend_y: float
    legend_width: float


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a sheet says of itself: its titles, and the text alternative, a paragraph a line."""

    titles: tuple[str, ...]
    alternative: tuple[str, ...]


def columns_of(*, narrow: bool) -> float:
    """Give how many text sizes there are across a sheet, less its border."""
    return (_NARROW if narrow else _WIDE) - 2 * _BORDER


def plan(
    width: float,
    height: float,
    margins: Margins,
    titles: Sequence[str],
    *,
    narrow: bool,
    beside: bool | None = None,
    share: float = 1.0,
    rows: int = 1,
) -> Plan:
    """Plan a sheet for a drawing of a width and height in mm.

    A drawing much higher than wide has its legend `beside` it where nothing else is said, all others below.
    It may take up only a `share` of the height. Where it goes on in further `rows`, each is as high.
    """
    columns, high = (_NARROW, _NARROW_HIGH) if narrow else (_WIDE, _WIDE_HIGH * share)
    beside = not narrow and width < 0.72 * height if beside is None else beside
    across = margins.left + margins.right + 2 * _BORDER + (_BESIDE if beside else 0)
    most = max(columns * high - margins.top - margins.bottom, columns * high / 3)
    unit = max(width / max(columns - across, 1), height / most)
    total = columns * unit
    room = total - 2 * _BORDER * unit
    heading = lines_of(titles[0], room, _TITLE * unit)
    lines = tuple(line for title in titles[1:] for line in lines_of(title, room, unit))
    body = (_BORDER + (len(heading) * _TITLE + len(lines)) * LEADING + 0.8) * unit
    left = (_BORDER + margins.left) * unit
    drawn = width + (margins.left + margins.right) * unit
    if not beside:
        left += (total - drawn - 2 * _BORDER * unit) / 2
    legend_x = _BORDER * unit + (drawn + 1.6 * unit if beside else 0)
    below = body + rows * (height + (margins.top + margins.bottom) * unit)
    return Plan(
        unit=unit,
        width=total,
        x=left,
        y=body + margins.top * unit,
        heading=heading,
        below=lines,
        legend_x=legend_x,
        legend_y=body if beside else below,
        legend_width=total - _BORDER * unit - legend_x,
    )


def sheet(
    layout: Plan,
    pen: Pen,
    drawing: Iterable[Mark],
    sections: Iterable[Section],
    told: Told,
    *,
    bottom: float,
    linked: bool,
) -> str:
    """Put a sheet together: title, drawing, legend, text alternative. `bottom` is where the drawing ends.

    A drawing with links is a group to a screen reader, since what is in an image cannot be reached
    (WAI-ARIA 1.2, children presentational).
    """
    border = _BORDER * layout.unit
    key = legend(pen, sections, layout.legend_x, layout.legend_y, layout.legend_width)
    height = max(bottom, layout.legend_y + key.height) + border
    title = " · ".join(told.titles)
    body = (
        mark("title", spoken(title), id=pen.id("title")),
        mark("desc", "\n".join(map(spoken, told.alternative)), id=pen.id("text")),
        mark("defs", *(pen.defined[name] for name in sorted(pen.defined))) if pen.defined else None,
        mark("rect", width=layout.width, height=height, fill=PAPER),
        *_head(layout),
        mark("g", *drawing, id=pen.id("drawing")),
        mark("g", *key.marks, id=pen.id("legend")),
    )
    top = mark(
        "svg",
        *body,
        xmlns=NAMESPACE,
        width=f"{number(layout.width)}mm",
        height=f"{number(height)}mm",
        viewBox=f"0 0 {number(layout.width)} {number(height)}",
        role="group" if linked else "img",
        aria_labelledby=pen.id("title"),
        aria_describedby=pen.id("text"),
        font_family=FAMILY,
        fill=INK,
        stroke_linejoin="round",
    )
    return str(top)


def _head(layout: Plan) -> Iterator[Mark]:
    border, size = _BORDER * layout.unit, _TITLE * layout.unit
    yield paragraph(border, border + 0.85 * size, layout.heading, size, font_weight="bold")
    below = border + len(layout.heading) * size * LEADING + 0.85 * layout.unit
    yield paragraph(border, below, layout.below, layout.unit)
