"""What was found, drawn: how it lies in time, and each record as a bar of its bounds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from guardbook.actions.dates_found import Run, step, year_of
from guardbook.binding.drawing.svg import Mark, mark
from guardbook.wording import _, ngettext

# of the histogram, in units of its own; the page sets how large it is shown
_WIDTH, _HEIGHT, _GAP = 240.0, 60.0, 2.0
# of the timeline: hundredths of its width
_WHOLE, _TALL, _TIP, _SHORTEST = 100.0, 12.0, 2.0, 0.8
MOST_YEARS_WRITTEN = 8


def draw_histogram(runs: Sequence[Run], chosen: tuple[str, str], to: Callable[[Run], str]) -> Markup:
    """Draw how many records may be of each run of years, each bar a link to those."""
    most = max(1, *(run.count for run in runs))
    wide = _WIDTH / len(runs)
    bars = []
    for number, run in enumerate(runs):
        is_chosen = (str(run.first), str(run.last)) == chosen
        said = ngettext("{years}: {count} record", "{years}: {count} records", run.count).format(
            years=run_words(run), count=run.count
        )
        shapes = _bar(number * wide, wide, (_HEIGHT - _GAP) * run.count / most)
        called = mark("title", said)
        bars.append(
            mark(
                "a", called, *shapes, href=to(run), aria_label=said, class_="is-chosen" if is_chosen else None
            )
        )
    label = _("How many records may be of which years")
    size = f"0 0 {_WIDTH:g} {_HEIGHT:g}"
    return _drawn(
        mark(
            "svg",
            *bars,
            class_="histogram",
            viewBox=size,
            preserveAspectRatio="none",
            role="group",
            aria_label=label,
        )
    )


def _bar(left: float, wide: float, tall: float) -> tuple[Mark, Mark]:
    """Draw a bar, and the whole of its column, which can be clicked."""
    return (
        mark("rect", class_="reach", x=left, y=0, width=wide, height=_HEIGHT),
        mark("rect", class_="bar", x=left + _GAP / 2, y=_HEIGHT - tall, width=wide - _GAP, height=tall),
    )


def run_words(run: Run) -> str:
    """Write a run of years."""
    return str(run.first) if run.first == run.last else f"{run.first}–{run.last}"


@dataclass(frozen=True)
class Axis:
    """The years across a timeline: the first and last shown, and those that are written."""

    first: int
    last: int
    written: tuple[int, ...]

    def x(self, year: float) -> float:
        """Give where a year begins, in hundredths of the width."""
        return _WHOLE * (year - self.first) / (self.last + 1 - self.first)


def axis_of(spans: Iterable[tuple[int, int] | None]) -> Axis | None:
    """Give the years that hold every bound of some dates (see `catalogue.facets.span`), None without any."""
    years = [year for days in spans if days for day in days if (year := year_of(day)) is not None]
    if not years:
        return None
    apart = step(min(years), max(years), MOST_YEARS_WRITTEN)
    first, last = min(years) // apart * apart, (max(years) // apart + 1) * apart - 1
    return Axis(first, last, tuple(range(first, last + 1, apart)))


def draw_bounds(days: tuple[int, int], axis: Axis, words: str) -> Markup:
    """Draw the bounds of one date as a bar, pointed on a side that nothing bounds."""
    begin, end = year_of(days[0]), year_of(days[1])
    left = 0.0 if begin is None else axis.x(begin)
    # no shorter than can be seen
    right = _WHOLE if end is None else min(max(axis.x(end + 1), left + _SHORTEST), _WHOLE)
    lines = [
        mark("path", class_="year", d=f"M{axis.x(year):.2f} 0V{_TALL:g}", vector_effect="non-scaling-stroke")
        for year in axis.written
    ]
    bar = mark("path", class_="bar", d=_outline(left, right, starts=begin is not None, ends=end is not None))
    return _drawn(
        mark(
            "svg",
            *lines,
            bar,
            class_="bounds",
            viewBox=f"0 0 {_WHOLE:g} {_TALL:g}",
            preserveAspectRatio="none",
            role="img",
            aria_label=words,
        )
    )


def _outline(left: float, right: float, *, starts: bool, ends: bool) -> str:
    middle, top, bottom = _TALL / 2, 2.0, _TALL - 2.0
    from_x, to_x = left if starts else left + _TIP, right if ends else right - _TIP
    ahead = f"V{bottom:g}" if ends else f"L{right:.2f} {middle:g}L{to_x:.2f} {bottom:g}"
    back = "" if starts else f"L{left:.2f} {middle:g}"
    return f"M{from_x:.2f} {top:g}H{to_x:.2f}{ahead}H{from_x:.2f}{back}Z"


def _drawn(svg: Mark) -> Markup:
    # drawn by us, with every text escaped
    return Markup(svg)  # noqa: S704
