"""The gatherings of a volume as they are sewn: what lies in which fold, and at which stations."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import axes, piece_marks, sheet
from guardbook.binding.drawing.gathering_ends import (
    ARM,
    OUTER,
    Gathered,
    end_marks,
    gathered,
    leaves_words,
    numbers_told,
)
from guardbook.binding.drawing.legend import Section, signs_section
from guardbook.binding.drawing.letters import place_of
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.plane import scene_letters, stage_words
from guardbook.binding.drawing.plane_words import gap_words, piece_words
from guardbook.binding.drawing.strokes import LINES
from guardbook.binding.drawing.svg import Mark
from guardbook.binding.drawing.window import Window
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneStation
from guardbook.errors import WrongUse
from guardbook.wording import _, decimals

# in text sizes: the widest and narrowest column, what a row of columns needs above and below its strips
_WIDEST, _NARROWEST = 6.5, 3.4
_ABOVE, _BELOW = ARM + 5.6, 1.6
_LEFT, _RIGHT = axes.LEFT + 1.4, 1.4
# a height to draw in where none is known
_NOMINAL_MM = 200.0


@dataclass(frozen=True)
class _Sewn:
    """What is drawn: the gatherings in rows, the height of their folds in mm, the stations."""

    rows: tuple[tuple[Gathered, ...], ...]
    column: float
    height: float
    stations: tuple[SceneStation, ...]


def draw_gatherings(scene: Scene, look: Look = PLAIN) -> str:
    """Draw the gatherings of a volume as they are sewn, as SVG: a diagram, to scale along the folds only.

    Raises WrongUse if no gathering is recorded.
    """
    letters = scene_letters(scene, look)
    found = gathered(scene, letters)
    if not found:
        told = _("No gatherings are recorded for {volume}.")
        raise WrongUse(message=told.format(volume=scene.name))
    titles = (
        scene.name,
        _("{stage} · The gatherings as sewn").format(stage=stage_words(scene)),
        _("A diagram: heights are to scale, widths are not. The way of the thread is not recorded."),
    )
    sewn = _sewn(scene, found, narrow=look.narrow)
    layout = _planned(sewn, titles, look)
    pen = Pen(layout.unit, look.prefix(" · ".join(titles)), look)
    marks = list(_rows(pen, layout, sewn, letters))
    bottom = layout.y + sum(_row_height(sewn, layout.unit) for _ in sewn.rows)
    return sheet.sheet(
        layout,
        pen,
        marks,
        _sections(pen, found, letters),
        sheet.Told(titles=titles, alternative=tuple(_words(sewn, found, letters))),
        bottom=bottom,
        linked=look.link is not None,
    )


def _sewn(scene: Scene, found: Sequence[Gathered], *, narrow: bool) -> _Sewn:
    room = sheet.columns_of(narrow=narrow) - _LEFT - _RIGHT
    most = int(room / _NARROWEST)
    in_rows = -(-len(found) // most)
    each = -(-len(found) // in_rows)
    rows = tuple(tuple(found[at : at + each]) for at in range(0, len(found), each))
    stations = next((p.stations for p in scene.planes if p.plane.plane in {"textblock-spine", "fold"}), ())
    return _Sewn(rows, min(_WIDEST, room / each), _fold_height(scene, found, stations), stations)


def _fold_height(scene: Scene, found: Sequence[Gathered], stations: Sequence[SceneStation]) -> float:
    """Give the height of the leaves, and not less than all that is drawn needs."""
    tops = [item.outline.bounds[3] for one in found for item in one.items if item.outline is not None]
    least = max([*tops, *(station.y for station in stations)], default=0.0)
    stated = scene.size.height or 0.0
    return max(stated, least) or _NOMINAL_MM


def _planned(sewn: _Sewn, titles: Sequence[str], look: Look) -> sheet.Plan:
    across = max(map(len, sewn.rows)) * sewn.column
    margins = sheet.Margins(left=_LEFT, right=across + _RIGHT, top=0, bottom=_ABOVE + _BELOW)
    beside = not look.narrow and _LEFT + _RIGHT + across < sheet.columns_of(narrow=False) - 32
    rows, narrow = len(sewn.rows), look.narrow
    return sheet.plan(0, sewn.height, margins, titles, narrow=narrow, beside=beside, share=0.7, rows=rows)


def _row_height(sewn: _Sewn, unit: float) -> float:
    return sewn.height + (_ABOVE + _BELOW) * unit


def _rows(pen: Pen, layout: sheet.Plan, sewn: _Sewn, letters: Mapping[str, str]) -> Iterator[Mark]:
    for at, row in enumerate(sewn.rows):
        window = Window(
            left=0,
            bottom=0,
            right=len(row) * sewn.column * pen.unit,
            top=sewn.height,
            x=layout.x,
            y=layout.y + at * _row_height(sewn, pen.unit) + _ABOVE * pen.unit,
        )
        yield from _row(pen, window, row, sewn, letters)


def _row(
    pen: Pen,
    window: Window,
    row: Sequence[Gathered],
    sewn: _Sewn,
    letters: Mapping[str, str],
) -> Iterator[Mark]:
    wide = sewn.column * pen.unit
    for at, one in enumerate(row):
        column = replace(window, x=window.x + at * wide, right=wide)
        middle = column.x + wide / 2
        yield from end_marks(pen, one, middle, window.y - 2.6 * pen.unit, wide)
        yield from _strip(pen, column, one, letters)
    yield from _stations(pen, window, sewn.stations)
    aside = 1.1 * pen.unit
    frame = Window(
        left=0,
        bottom=0,
        right=window.width + 2 * aside,
        top=window.height,
        x=window.x - aside,
        y=window.y,
    )
    yield axes.up_axis(pen, window, frame, axes.AxisWords(_("tail"), "mm", _("head")))


def _strip(pen: Pen, column: Window, one: Gathered, letters: Mapping[str, str]) -> Iterator[Mark]:
    """Draw a gathering opened at its fold, with the guards there at their heights."""
    middle, half, bottom = column.x + column.width / 2, column.width * 0.42, column.y + column.height
    box = shapely.box(middle - half, column.y, middle + half, bottom)
    yield pen.line("strip", LINES["plane"], box, _("gathering, opened at its fold"))
    fold = shapely.LineString([(middle, column.y), (middle, bottom)])
    yield pen.line("fold-line", LINES["zero"], fold, _("its fold"))
    for gap in one.gaps:
        if gap.outline is not None:
            bar = _bar(column, gap.outline, half * 0.7)
            yield piece_marks.gap_mark(pen, bar, gap, letters[gap.piece], crossed=True)
            yield pen.letter_alone(piece_marks.gap_letter(letters[gap.piece]), *_spot(bar, 0), size=0.85)
    for at, item in enumerate(one.items):
        if item.outline is not None:
            bar = _bar(column, item.outline, half * (0.75 if item.function in OUTER else 0.45))
            yield piece_marks.piece_mark(pen, bar, item, letters[item.piece])
            yield pen.letter_alone(letters[item.piece], *_spot(bar, at))


def _bar(column: Window, outline: BaseGeometry, half: float) -> BaseGeometry:
    _, bottom, _, top = outline.bounds
    middle = column.x + column.width / 2
    (_, low), (_, high) = column.at(0, bottom), column.at(0, top)
    return shapely.box(middle - half, high, middle + half, low)


def _spot(bar: BaseGeometry, at: int) -> tuple[float, float]:
    """Give the place of a letter in a bar; those of bars on each other are set apart."""
    left, top, right, bottom = bar.bounds
    return (left + right) / 2, top + (bottom - top) * (0.5 + 0.13 * at * (-1 if at % 2 else 1))


def _stations(pen: Pen, window: Window, stations: Sequence[SceneStation]) -> Iterator[Mark]:
    for station in stations:
        _, y = window.at(0, station.y)
        line = shapely.LineString([(window.x, y), (window.x + window.width, y)])
        yield pen.line("station-line", LINES["station"], line)
        yield pen.station(station.kind, (window.x - 0.05 * pen.unit, y))
        yield pen.station(station.kind, (window.x + window.width + 0.05 * pen.unit, y), turn=180)


def _sections(pen: Pen, found: Sequence[Gathered], letters: Mapping[str, str]) -> Iterator[Section]:
    on_leaves = [(one, piece.item, False) for one in found for piece in one.on_leaves]
    in_folds = [(one, item, item.measured) for one in found for item in one.items]
    pieces = {
        letters[item.piece]: piece_marks.piece_entry(
            pen,
            _("{piece}, gathering\u00a0{number}").format(piece=piece_words(item), number=one.number),
            letters[item.piece],
            item.piece,
            hatched=hatched,
        )
        for one, item, hatched in [*on_leaves, *in_folds]
    }
    yield Section(_("Pieces, by letter"), tuple(pieces[letter] for letter in sorted(pieces, key=place_of)))
    gone = {gap.piece: gap for one in found for gap in one.gaps}
    gaps = (piece_marks.gap_entry(pen, gap_words(gap), letters[piece], piece) for piece, gap in gone.items())
    yield Section(_("Gone since an earlier stage"), tuple(gaps))
    yield signs_section(pen)


def _words(sewn: _Sewn, found: Sequence[Gathered], letters: Mapping[str, str]) -> Iterator[str]:
    yield numbers_told(found)
    for one in found:
        said = [f"{letters[item.piece]}: {piece_words(item)}" for item in one.items]
        said += [f"{letters[gap.piece]}: {gap_words(gap)}" for gap in one.gaps]
        said += [
            _("{letter} on its leaf {leaf}").format(letter=piece.letter, leaf=piece.leaf)
            for piece in one.on_leaves
        ]
        yield _("Gathering {number}, {leaves}. {held}.").format(
            number=one.number,
            leaves=leaves_words(one.leaf_count),
            held="; ".join(said) or _("Nothing in its fold"),
        )
    if sewn.stations:
        told = decimals(f"{station.y:g} mm" for station in sewn.stations)
        yield _("Sewing stations, from the tail: {heights}.").format(heights=told)
