"""A drawing in one plane: its sheet, its window with axes and scale bar, ready to be drawn in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from guardbook.binding.drawing import axes, sheet
from guardbook.binding.drawing.legend import Section
from guardbook.binding.drawing.look import Look
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.svg import Mark
from guardbook.binding.drawing.window import Window
from guardbook.binding.plane_phrases import mm_from_zero
from guardbook.binding.planes import PlaneName
from guardbook.wording import _

Extent = tuple[float, float, float, float]
# room between the window and the frame of its axes, in parts of the text size: for stations, for letters
_PAD, _PAD_LETTERS = 1.3, 3.2
# a drawing without legend is set small, so it takes up less of its sheet and its text is the larger
_BARE_SHARE = 0.45


@dataclass(frozen=True)
class Flat:
    """A planned sheet with its pen, the window on the plane, and the frame of the axes round it."""

    layout: sheet.Plan
    pen: Pen
    window: Window
    frame: Window
    reach: float
    """How far from the window the middle of a letter in the margin is, in mm."""

    def finished(self, marks: Iterable[Mark], sections: Iterable[Section], told: sheet.Told) -> str:
        """Write the sheet, with the scale bar under the drawing."""
        below = axes.below(self.frame.width, self.pen.unit)
        y = self.frame.y + self.frame.height + below * self.pen.unit
        bar = axes.scale_bar(self.pen, self.frame.x, y, self.frame.width, self.layout.width)
        bottom = y + 4.2 * self.pen.unit
        return sheet.sheet(
            self.layout,
            self.pen,
            [*marks, bar],
            sections,
            told,
            bottom=bottom,
            linked=self.pen.look.link is not None,
        )


def flat(
    extent: Extent,
    titles: Sequence[str],
    look: Look,
    *,
    reversed_x: bool = False,
    in_margin: bool = False,
    stretch: float = 1.0,
    above: float = 0.0,
) -> Flat:
    """Plan a drawing of a part of a plane (left, bottom, right, top in mm).

    `in_margin` keeps room for letters in the margin, `above` for so many text sizes of more over the frame;
    heights are drawn `stretch` times as large as they are.
    """
    left, bottom, right, top = extent
    pad = _PAD_LETTERS if in_margin else _PAD
    layout = _planned((right - left, (top - bottom) * stretch), pad, above, titles, look)
    window = Window(
        left=left,
        bottom=bottom,
        right=right,
        top=top,
        x=layout.x,
        y=layout.y,
        reversed=reversed_x,
        stretch=stretch,
    )
    return Flat(
        layout=layout,
        pen=Pen(layout.unit, look.prefix(" · ".join(titles)), look),
        window=window,
        frame=_framed(window, pad * layout.unit, _PAD * layout.unit),
        reach=(_PAD_LETTERS - 1.1) * layout.unit,
    )


def _planned(
    size: tuple[float, float], pad: float, above: float, titles: Sequence[str], look: Look
) -> sheet.Plan:
    """Plan the sheet, and again with more room below where its frame turns out to be narrow."""
    width, high = size
    margins = sheet.Margins(left=axes.LEFT + pad, right=pad + 0.6, top=_PAD + above, bottom=_PAD + 4)
    beside, share = (False, _BARE_SHARE) if look.bare else (None, 1.0)
    for _round in range(2):
        layout = sheet.plan(width, high, margins, titles, narrow=look.narrow, beside=beside, share=share)
        below = axes.below(width + 2 * pad * layout.unit, layout.unit)
        margins = replace(margins, bottom=_PAD + below + 3.4)
    return sheet.plan(width, high, margins, titles, narrow=look.narrow, beside=beside, share=share)


def _framed(window: Window, across: float, up: float) -> Window:
    return Window(
        left=0,
        bottom=0,
        right=window.width + 2 * across,
        top=window.height + 2 * up,
        x=window.x - across,
        y=window.y - up,
    )


def plane_axes(drawing: Flat, plane: PlaneName, up: axes.AxisWords | None = None) -> Mark:
    """Draw the axes of one of the planes of a volume; `up` are the words along it where it is a section."""
    words = plane.axes
    ends = (words.x_away, words.x_towards)
    low, high = reversed(ends) if plane.is_seen_reversed else ends
    across = axes.AxisWords(_(low), mm_from_zero(words.x_zero), _(high))
    tail_to_head = axes.AxisWords(_("tail"), "mm", _("head"))
    return axes.axes(drawing.pen, drawing.window, drawing.frame, across, up or tail_to_head)
