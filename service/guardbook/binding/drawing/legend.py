"""The legend: what is on the drawing and nothing else, in columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guardbook.binding.drawing.lettering import LEADING, lines_of, paragraph, text_mark, width
from guardbook.binding.drawing.pen import SWATCH_HEIGHT, SWATCH_WIDTH, Pen
from guardbook.binding.drawing.svg import Mark, mark, number
from guardbook.wording import _

SIZE = 0.86
_COLUMN, _GUTTER, _TEXT_AT = 27.0, 1.6, SWATCH_WIDTH + 0.8
_HEADING = 2.0


@dataclass(frozen=True)
class Entry:
    """One line of the legend: a sample drawn about the origin, its letter, and words.

    Without a sample it is a note. `piece` is the piece (IRI) that its words lead to where links are wanted,
    so that one gets to a piece that lies under others too.
    """

    words: str
    sample: Mark | None = None
    letter: str = ""
    piece: str | None = None


@dataclass(frozen=True)
class Section:
    """A heading with its entries."""

    heading: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class Legend:
    """The finished legend and its height in mm."""

    marks: tuple[Mark, ...]
    height: float


@dataclass(frozen=True)
class _Row:
    """What is set as one: an entry, or a heading that stays with the entry after it."""

    heading: str | None
    entry: Entry
    lines: tuple[str, ...]

    def height(self, unit: float) -> float:
        text = len(self.lines) * LEADING * SIZE
        own = max(text, SWATCH_HEIGHT if self.entry.sample else 0) + 0.5
        return (own + (_HEADING if self.heading else 0)) * unit


def signs_section(pen: Pen) -> Section:
    """Give the signs that the pen has drawn."""
    entries = (Entry(sign.words, sign.sample) for sign in pen.signs.values())
    return Section(_("Signs"), tuple(entries))


def legend(pen: Pen, sections: Iterable[Section], x: float, y: float, room: float) -> Legend:
    """Set the sections in as many columns as fit into `room` mm, its top at y."""
    unit = pen.unit
    columns = max(1, int((room / unit + _GUTTER) / (_COLUMN + _GUTTER)))
    each = (room - (columns - 1) * _GUTTER * unit) / columns
    rows = list(_rows(sections, each, unit))
    marks: list[Mark] = []
    letters: list[Mark] = []
    bottoms = []
    for at, column in enumerate(_dealt(rows, columns, unit)):
        top = y
        for row in column:
            left = x + at * (each + _GUTTER * unit)
            marks += _row_marks(pen, row, left, top)
            letters += _letter_marks(pen, row, left, top)
            top += row.height(unit)
        bottoms.append(top)
    marks += filter(None, [pen.lettered(letters)])
    return Legend(tuple(marks), max(bottoms, default=y) - y)


def _rows(sections: Iterable[Section], room: float, unit: float) -> Iterator[_Row]:
    for section in sections:
        for at, entry in enumerate(section.entries):
            left = room - (_TEXT_AT * unit if entry.sample else 0)
            lines = lines_of(entry.words, left, SIZE * unit)
            yield _Row(None if at else section.heading, entry, lines)


def _dealt(rows: Sequence[_Row], columns: int, unit: float) -> list[list[_Row]]:
    """Deal rows to columns in order, so that the highest column is as low as it can be."""
    heights = [row.height(unit) for row in rows]
    low, high = max(heights, default=0.0), sum(heights)
    for _halving in range(24):
        middle = (low + high) / 2
        low, high = (low, middle) if len(_filled(rows, heights, middle)) <= columns else (middle, high)
    return _filled(rows, heights, high)


def _filled(rows: Sequence[_Row], heights: Sequence[float], most: float) -> list[list[_Row]]:
    columns: list[list[_Row]] = [[]]
    height = 0.0
    for row, high in zip(rows, heights, strict=True):
        if columns[-1] and height + high > most + 1e-6:
            columns.append([])
            height = 0.0
        columns[-1].append(row)
        height += high
    return columns


def _row_marks(pen: Pen, row: _Row, x: float, top: float) -> Iterator[Mark]:
    unit = pen.unit
    if row.heading:
        yield text_mark(x, top + 1.25 * unit, row.heading, unit, font_weight="bold")
    middle = _middle(row, top, unit)
    if row.entry.sample:
        sample_at = f"translate({number(x + SWATCH_WIDTH / 2 * unit)} {number(middle)})"
        yield mark("g", row.entry.sample, transform=sample_at)
    text_x = x + (_TEXT_AT * unit if row.entry.sample else 0)
    words = paragraph(text_x, middle + 0.32 * SIZE * unit, row.lines, SIZE * unit)
    if pen.look.link is None or row.entry.piece is None:
        yield words
    else:
        yield _leading(pen.look.link(row.entry.piece), row, words, (x, top, text_x - x), unit)


def _leading(address: str, row: _Row, words: Mark, at: tuple[float, float, float], unit: float) -> Mark:
    """Let the line of a piece lead to it; the Tab key stops at the piece itself and not here again."""
    x, top, aside = at
    heading = _HEADING * unit if row.heading else 0.0
    wide = aside + max(width(line, SIZE * unit) for line in row.lines)
    # between the letters of a text nothing can be pointed at, so the whole line is laid under it
    ground = mark(
        "rect",
        x=x,
        y=top + heading - 0.2 * unit,
        width=wide,
        height=row.height(unit) - heading,
        fill="none",
        pointer_events="all",
    )
    return mark("a", ground, words, href=address, tabindex="-1")


def _middle(row: _Row, top: float, unit: float) -> float:
    return top + (SWATCH_HEIGHT / 2 + (_HEADING if row.heading else 0)) * unit


def _letter_marks(pen: Pen, row: _Row, x: float, top: float) -> Iterator[Mark]:
    """Write the letter on a sample, smaller where it would not fit into it."""
    letter, unit = row.entry.letter, pen.unit
    if letter:
        size = min(0.95, 0.9 * SWATCH_WIDTH * unit / pen.letter_width(letter))
        yield pen.letter(letter, x + SWATCH_WIDTH / 2 * unit, _middle(row, top, unit), size=size)
