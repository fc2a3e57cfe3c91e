"""The millimetre axes round a window, and the scale bar."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from guardbook.binding.drawing.lettering import lines_of, paragraph, text_mark, width
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.strokes import INK, LINES, PAPER
from guardbook.binding.drawing.svg import Mark, figure, group, mark, number, path_of
from guardbook.binding.drawing.window import Window
from guardbook.wording import _

# room the axes need outside their frame, in parts of the text size
LEFT = 4.4
_BELOW, _BELOW_STACKED = 3.6, 7.2
# in a frame narrower than this their words do not fit beside each other
_TOO_NARROW = 30.0
_SMALL = 0.82


@dataclass(frozen=True)
class AxisWords:
    """What stands at an axis: at its ends and in its middle."""

    low: str
    middle: str
    high: str


def round_step(least: float) -> float:
    """Give the smallest of 1, 2, 5, 10, 20, 50 ... that is not below `least`.

    >>> round_step(3.1), round_step(20), round_step(0.4)
    (5.0, 20.0, 0.5)
    """
    power = 10 ** math.floor(math.log10(least))
    return float(next(factor * power for factor in (1, 2, 5, 10) if factor * power >= least * 0.999))


def below(frame_width: float, unit: float) -> float:
    """Give the room in text sizes that the axis under a frame needs."""
    return _BELOW if frame_width >= _TOO_NARROW * unit else _BELOW_STACKED


def axes(pen: Pen, window: Window, frame: Window, across: AxisWords, up: AxisWords) -> Mark:
    """Draw the axes of a window along the left and the bottom of a frame round it.

    Where heights are stretched the left axis bears words, and a bar of its own instead of figures.
    """
    if window.stretch == 1:
        beside = up_axis(pen, window, frame, up)
    else:
        beside = mark("g", _line(pen, _left(frame), ""), *_stretched_words(pen, window, frame, up))
    ticks = list(_across_ticks(pen, window, frame.y + frame.height, round_step(3.6 * pen.unit)))
    bottom = shapely.LineString(
        [(frame.x, frame.y + frame.height), (frame.x + frame.width, frame.y + frame.height)]
    )
    line = _line(pen, bottom, "".join(path for path, _ in ticks))
    return mark("g", line, *(text for _, text in ticks), *_across_words(pen, frame, across), beside)


def up_axis(pen: Pen, window: Window, frame: Window, words: AxisWords) -> Mark:
    """Draw the axis along the left of a frame."""
    ticks = list(_up_ticks(pen, window, frame.x, round_step(3.6 * pen.unit)))
    line = _line(pen, _left(frame), "".join(path for path, _ in ticks))
    return mark("g", line, *(text for _, text in ticks), *_up_words(pen, frame, words))


def _left(frame: Window) -> shapely.LineString:
    return shapely.LineString([(frame.x, frame.y), (frame.x, frame.y + frame.height)])


def _line(pen: Pen, border: shapely.LineString, ticks: str) -> Mark:
    return mark("path", d=path_of(border) + ticks, fill="none", **LINES["axis"].attributes(pen.unit))


def _marks(low: float, high: float, step: float) -> Iterator[tuple[float, bool]]:
    """Give the values of the ticks, five to a numbered one."""
    fine = step / 5
    for at in range(math.ceil(low / fine - 1e-6), math.floor(high / fine + 1e-6) + 1):
        yield at * fine, at % 5 == 0


def _across_ticks(pen: Pen, window: Window, y: float, step: float) -> Iterator[tuple[str, Mark | None]]:
    for value, numbered in _marks(window.left, window.right, step):
        x, _ = window.at(value, window.bottom)
        length = pen.unit * (0.5 if numbered else 0.25)
        text = (
            text_mark(x, y + 1.35 * pen.unit, figure(value), _SMALL * pen.unit, text_anchor="middle")
            if numbered
            else None
        )
        yield f"M{number(x)} {number(y)}v{number(length)}", text


def _up_ticks(pen: Pen, window: Window, x: float, step: float) -> Iterator[tuple[str, Mark | None]]:
    for value, numbered in _marks(window.bottom, window.top, step):
        _, y = window.at(window.left, value)
        length = pen.unit * (0.5 if numbered else 0.25)
        text = (
            text_mark(
                x - 0.7 * pen.unit,
                y + 0.3 * pen.unit,
                figure(value),
                _SMALL * pen.unit,
                text_anchor="end",
            )
            if numbered
            else None
        )
        yield f"M{number(x)} {number(y)}h{number(-length)}", text


def _across_words(pen: Pen, frame: Window, words: AxisWords) -> Iterator[Mark]:
    """Say what the axis measures and where it leads: in a row, or in a narrow frame line by line."""
    y, size = frame.y + frame.height + 2.7 * pen.unit, _SMALL * pen.unit
    low, high = f"← {words.low}", f"{words.high} →"
    if frame.width < _TOO_NARROW * pen.unit:
        lines = [line for text in (low, words.middle, high) for line in lines_of(text, frame.width, size)]
        yield paragraph(frame.x, y, tuple(lines), size)
        return
    yield text_mark(frame.x, y, low, size)
    yield text_mark(frame.x + frame.width / 2, y, words.middle, size, text_anchor="middle")
    yield text_mark(frame.x + frame.width, y, high, size, text_anchor="end")


def _up_words(pen: Pen, frame: Window, words: AxisWords) -> Iterator[Mark]:
    x, size = frame.x - 3.3 * pen.unit, _SMALL * pen.unit
    bottom, middle = frame.y + frame.height, frame.y + frame.height / 2
    for y, text, anchor in (
        (bottom, f"← {words.low}", "start"),
        (middle, words.middle, "middle"),
        (frame.y, f"{words.high} →", "end"),
    ):
        turned = f"rotate(-90 {number(x)} {number(y)})"
        yield text_mark(x, y, text, size, text_anchor=anchor, transform=turned)


def _stretched_words(pen: Pen, window: Window, frame: Window, words: AxisWords) -> Iterator[Mark]:
    """Say which way is up, and draw a bar for the stretched heights."""
    unit, size, x = pen.unit, _SMALL * pen.unit, frame.x - 0.5 * pen.unit
    bottom = frame.y + frame.height
    yield text_mark(x, frame.y + unit, words.high, size, text_anchor="end")
    yield text_mark(x, bottom - 0.3 * unit, words.low, size, text_anchor="end")
    length = round_step(1.8 * unit / window.stretch)
    bar_x, bar_y = frame.x + unit, bottom - 0.8 * unit
    arm, high = number(0.3 * unit), number(length * window.stretch)
    path = f"M{number(bar_x)} {number(bar_y)}h{arm}h-{arm}v-{high}h{arm}"
    yield mark("path", d=path, fill="none", stroke=INK, stroke_width=0.12 * unit)
    at_x, at_y = bar_x + 1.1 * unit, bar_y - length * window.stretch / 2
    turned = f"rotate(-90 {number(at_x)} {number(at_y)})"
    yield text_mark(at_x, at_y, f"{figure(length)} mm", size, text_anchor="middle", transform=turned)


def scale_bar(pen: Pen, x: float, y: float, room: float, printed_mm: float) -> Mark:
    """Draw a bar of a round length, and say beside it, or below where there is no room, what full size is."""
    unit, size = pen.unit, _SMALL * pen.unit
    length = _bar_length(room)
    part, high = length / 5, 0.45 * unit
    blocks = [
        mark("rect", x=x + at * part, y=y, width=part, height=high, fill=INK if at % 2 == 0 else PAPER)
        for at in range(5)
    ]
    outline = mark("rect", x=x, y=y, width=length, height=high, fill="none")
    bar = group([*blocks, outline], stroke=INK, stroke_width=0.05 * unit)
    under = y + high + 0.95 * unit
    words = _("Full size when {width} mm wide").format(width=figure(round(printed_mm)))
    aside = length + 2.4 * unit
    fits = aside + width(words, size) <= room
    at_x, at_y = (aside, y + high) if fits else (0, under + 1.15 * unit)
    lines = (words,) if fits else lines_of(words, max(room, 8 * unit), size)
    return mark(
        "g",
        bar,
        text_mark(x, under, "0", size, text_anchor="middle"),
        text_mark(x + length, under, f"{figure(length)} mm", size, text_anchor="middle"),
        paragraph(x + at_x, at_y, lines, size),
    )


def _bar_length(room: float) -> float:
    """Give the longest round length that takes no more than 45 in 100 of the room."""
    longest = round_step(room * 0.45)
    return longest if longest <= room * 0.45 else round_step(room * 0.45 / 2.5)


def zero_line(pen: Pen, window: Window) -> Mark | None:
    """Draw the line x = 0 faintly where it is in the window."""
    if not window.left < 0 < window.right:
        return None
    ends = [window.at(0, window.bottom), window.at(0, window.top)]
    line = shapely.LineString(ends)
    return mark("path", d=path_of(line), fill="none", **LINES["zero"].attributes(pen.unit))
