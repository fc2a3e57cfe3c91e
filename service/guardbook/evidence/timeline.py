"""A timeline of the dates of a volume or piece as SVG: bounds as bars, the reasons with each bar.

A full bar is what all statements together leave, a hollow one what is proved without the date that the record
itself states: so they are told apart where only one of them is there. An arrow says that nothing bounds that
side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.binding.drawing.lettering import FAMILY, LEADING, lines_of, paragraph, spoken, text_mark
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.strokes import GREY, INK, PAPER
from guardbook.binding.drawing.svg import NAMESPACE, Mark, Value, mark, number
from guardbook.errors import WrongUse
from guardbook.evidence.dated import DatedTime, Dating
from guardbook.evidence.days import day_number
from guardbook.records.dates import Day
from guardbook.wording import _

# sizes in mm on paper
_TEXT, _BORDER, _BAR, _HOLLOW, _EDGE = 3.2, 4.0, 2.0, 1.3, 0.25
_WIDE, _NARROW = 180.0, 90.0
_ARROW = 3.0
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
_MOST_YEARS = 8


@dataclass(frozen=True)
class _Scale:
    """Years across the paper: the first and last year shown, and where they lie in mm."""

    first: int
    last: int
    left: float
    right: float

    def x(self, day: Day, *, end: bool = False) -> float:
        """Give where a day begins, or ends."""
        start, stop = day_number((self.first, 1, 1)), day_number((self.last + 1, 1, 1))
        share = (day_number(day) + end - start) / (stop - start)
        return self.left + share * (self.right - self.left)

    def years(self) -> Iterator[int]:
        """Give the years to write, at round distances."""
        apart = next((s for s in _STEPS if (self.last - self.first) / s <= _MOST_YEARS), 2 * _STEPS[-1])
        yield from range(-(-self.first // apart) * apart, self.last + 2, apart)


def draw_timeline(dating: Dating, look: Look = PLAIN) -> str:
    """Draw the times of a volume or piece under each other. Raises WrongUse where nothing bounds any.

    Each time is linked by its name (`DatedTime.time`), where links are wanted.
    """
    width = _NARROW if look.narrow else _WIDE
    scale = _scale(dating, width)
    prefix = look.prefix(f"timeline {dating.record}")
    title = lines_of(
        _("{name} · what is known of its dates").format(name=dating.name), width - 2 * _BORDER, 1.2 * _TEXT
    )
    y = _BORDER + len(title) * LEADING * 1.2 * _TEXT
    marks = [paragraph(_BORDER, _BORDER + _TEXT, title, 1.2 * _TEXT, font_weight="bold")]
    top = y + 2.2 * _TEXT
    y = top
    for one in dating.times:
        row, below = _row(one, scale, y, width)
        if look.link:
            # all of the row leads on, not only its letters and bars
            area = mark("rect", y=y, width=width, height=below - y, fill="none", pointer_events="all")
            row = mark("a", area, row, href=look.link(one.time))
        marks.append(row)
        y = below
    marks = [*_axis(scale, top - 0.9 * _TEXT, y), *marks]
    key = lines_of(_key(), width - 2 * _BORDER, 0.9 * _TEXT)
    marks.append(paragraph(_BORDER, y + 1.4 * _TEXT, key, 0.9 * _TEXT, fill=GREY))
    height = y + (1.4 + len(key) * LEADING) * _TEXT + _BORDER
    return _sheet(dating, marks, (width, height), prefix, role="group" if look.link else "img")


def _key() -> str:
    return _(
        "Full bar: what all statements together leave. Hollow bar: what is proved without the date that the "
        "record itself states. Arrow: nothing bounds it on that side."
    )


def _scale(dating: Dating, width: float) -> _Scale:
    days = [limit.day for one in dating.times for limit in one.limits]
    if not days:
        told = _("Nothing bounds any date of {name}, so there is no timeline to draw.")
        raise WrongUse(message=told.format(name=dating.name))
    first, last = min(days)[0], max(days)[0]
    room = max(1, (last - first) // 20)
    return _Scale(first - room, last + room, _BORDER + _ARROW, width - _BORDER - _ARROW)


def _axis(scale: _Scale, top: float, bottom: float) -> Iterator[Mark]:
    for year in scale.years():
        x = scale.x((year, 1, 1))
        if scale.left <= x <= scale.right:
            yield mark(
                "path",
                d=f"M{number(x)} {number(top + 0.8)}V{number(bottom)}",
                stroke="#bbb",
                stroke_width=0.15,
            )
            yield text_mark(x, top, str(year), 0.85 * _TEXT, text_anchor="middle", fill=GREY)


def _row(one: DatedTime, scale: _Scale, y: float, width: float) -> tuple[Mark, float]:
    """Draw one time: its name, its span in words, and under them its bars; give where the next one goes."""
    lines = lines_of(f"{one.name}: {one.limits.span_words()}", width - 2 * _BORDER, _TEXT)
    below = y + len(lines) * LEADING * _TEXT
    bars = _bars(one, scale, below + 0.7)
    # what is read on demand: a browser shows it over the bar, a screen reader after the name
    reasons = "\n".join(map(spoken, one.words().split("\n")))
    drawn = mark("g", mark("title", reasons), paragraph(_BORDER, y + _TEXT, lines, _TEXT), *bars)
    return drawn, below + _BAR + 2.0


def _bars(one: DatedTime, scale: _Scale, y: float) -> Iterator[Mark]:
    proved = one.limits.proved()
    first, last = one.limits.earliest, one.limits.latest
    left = (first.day if first else None, last.day if last else None)
    for days, height in ((proved, _HOLLOW), (left, _BAR)):
        if not any(days):
            continue
        yield _bar(scale, y + (_BAR - height) / 2, days, height)
        for day, x, turn in zip(days, (scale.left, scale.right), (-1, 1), strict=True):
            if day is None:
                yield _arrow(x, y + _BAR / 2, turn, height)


def _bar(scale: _Scale, y: float, days: tuple[Day | None, Day | None], height: float) -> Mark:
    start = scale.left if days[0] is None else scale.x(days[0])
    end = scale.right if days[1] is None else scale.x(days[1], end=True)
    return mark("rect", x=start, y=y, width=max(end - start, 0.4), height=height, **_paint(height))


def _arrow(x: float, y: float, turn: int, height: float) -> Mark:
    """Point past the edge of the scale, from a bar of this height: to the left for -1, to the right for 1."""
    tip, half = x + turn * _ARROW, 0.2 + 0.4 * height
    way = f"M{number(tip)} {number(y)}L{number(x)} {number(y - half)}V{number(y + half)}Z"
    return mark("path", d=way, **_paint(height))


def _paint(height: float) -> dict[str, Value]:
    return {"fill": INK if height == _BAR else PAPER, "stroke": INK, "stroke_width": _EDGE}


def _sheet(dating: Dating, marks: list[Mark], size: tuple[float, float], prefix: str, *, role: str) -> str:
    width, height = size
    told = "\n".join(map(spoken, dating.words().split("\n")))
    return mark(
        "svg",
        mark("title", _("{name}: timeline").format(name=dating.name), id=f"{prefix}-title"),
        mark("desc", told, id=f"{prefix}-text"),
        mark("rect", width=width, height=height, fill=PAPER),
        *marks,
        xmlns=NAMESPACE,
        width=f"{number(width)}mm",
        height=f"{number(height)}mm",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role=role,
        aria_labelledby=f"{prefix}-title",
        aria_describedby=f"{prefix}-text",
        font_family=FAMILY,
        fill=INK,
    )
