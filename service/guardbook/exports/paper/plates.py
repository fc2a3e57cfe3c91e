"""Drawings of a volume on paper: which form of one, and how large, so that it can be read and measured."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guardbook.binding.drawing.lettering import FAMILY
from guardbook.exports.paper.blocks import Drawing, KeyedDrawing, Plate
from guardbook.exports.paper.fonts import SANS
from guardbook.wording import _, decimal

_SIZE = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')
_DESCRIBED = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_ENTITIES = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&amp;": "&"}
# text sizes across a wide and a narrow drawing, as the drawings are made
_TEXTS_ACROSS = {"wide": 84.0, "narrow": 36.0}
# what a page leaves for a drawing beside its caption, in mm, upright and across; the smaller of A4 and Letter
ROOM, ACROSS = (176.0, 212.0), (256.0, 146.0)
# between two drawings beside each other, in mm
BETWEEN_MM = 8.0
# what a drawing may take up beside the words for its letters
BESIDE_MM = (86.0, 86.0)
_Room = tuple[float, float]
# text on a drawing can be read from this size on (common practice, no published source)
_READABLE_MM = 1.8
# larger text than this on a drawing only takes up paper
_LARGEST_TEXT_MM = 3.0


@dataclass(frozen=True, kw_only=True)
class StageSheet:
    """A volume at a stage, drawn wide and narrow; `plane` says which plane it is, `key` names it."""

    key: str
    wide: str
    narrow: str
    stage: str
    plane: str


@dataclass(frozen=True)
class KeyLine:
    """What a letter on a drawing stands for; the piece that is outlined boldly is marked."""

    letter: str
    words: str
    is_marked: bool


@dataclass(frozen=True, kw_only=True)
class PlaceSheet:
    """A volume, perhaps with a piece marked in its place, drawn narrow without a legend, which `key` is."""

    svg: str
    stage: str
    plane: str
    key: tuple[KeyLine, ...]


@dataclass(frozen=True, kw_only=True)
class Drawings:
    """A volume before and after, the same planes where there are such; the pieces (IRIs) not on them."""

    before: tuple[StageSheet, ...] = ()
    after: tuple[StageSheet, ...] = ()
    not_drawn: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Fitted:
    svg: str
    wide: float
    scale: float
    text: float
    across: bool


def plates(drawings: Drawings) -> tuple[Plate, ...]:
    """Give pages of drawings: the same plane before and after beside each other where both can be read so."""
    after = {sheet.key: sheet for sheet in drawings.after}
    now = _("After treatment.") if drawings.before else _("As it stands.")
    pages: list[Plate] = []
    for sheet in drawings.before:
        then = after.pop(sheet.key, None)
        told = [(sheet, _("Before treatment.")), *([(then, now)] if then else [])]
        pages += _pages(told)
    return (*pages, *(plate(sheet, now) for sheet in after.values()))


def _pages(told: Sequence[tuple[StageSheet, str]]) -> list[Plate]:
    """Give drawings one page if they can be read on it beside each other and are not much smaller so."""
    room = ((ROOM[0] - BETWEEN_MM) / 2, ROOM[1] - BETWEEN_MM)
    fitted = [_best(_tried(sheet, (room,))) for sheet, _says in told]
    alone = [_best(_tried(sheet, (ROOM, ACROSS))) for sheet, _says in told]
    if len(told) > 1 and all(map(_is_as_good, fitted, alone)):
        drawn = (_drawing(sheet, says, one) for (sheet, says), one in zip(told, fitted, strict=True))
        return [Plate(tuple(drawn), across=False)]
    return [plate(sheet, says) for sheet, says in told]


def _is_as_good(beside: _Fitted, alone: _Fitted) -> bool:
    return beside.text >= _READABLE_MM and beside.scale >= alone.scale / 2


def plate(sheet: StageSheet, says: str) -> Plate:
    """Give a drawing a page, upright or across, as large as goes."""
    best = _best(_tried(sheet, (ROOM, ACROSS)))
    return Plate((_drawing(sheet, says, best),), best.across)


def _best(tried: Iterable[_Fitted]) -> _Fitted:
    """Choose the largest that can be read, of two alike the upright one; else the one read most easily."""
    return max(tried, key=lambda one: (min(one.text, _READABLE_MM), one.scale, not one.across))


def keyed(sheet: PlaceSheet) -> KeyedDrawing:
    """Fit the drawing of a piece in its place into the run of a text, its letters told beside it."""
    best = _best(_fits(sheet.svg, "narrow", (BESIDE_MM,)))
    lines = tuple((one.letter, one.words, one.is_marked) for one in sheet.key)
    is_marked = any(line.is_marked for line in sheet.key)
    note = _("The piece told of here is outlined boldly, also where others hide it.") if is_marked else ""
    return KeyedDrawing(_drawing(sheet, "", best), lines, note)


def _drawing(sheet: StageSheet | PlaceSheet, says: str, best: _Fitted) -> Drawing:
    return Drawing(best.svg, _caption(sheet, says, best.scale), described(best.svg), best.wide)


def described(svg: str) -> str:
    """Give the text alternative of one of our drawings."""
    found = _DESCRIBED.search(svg)
    text = found[1] if found else ""
    for written, meant in _ENTITIES.items():
        text = text.replace(written, meant)
    return text


def _tried(sheet: StageSheet, rooms: Sequence[_Room]) -> list[_Fitted]:
    return [*_fits(sheet.wide, "wide", rooms), *_fits(sheet.narrow, "narrow", rooms)]


def _fits(svg: str, form: str, rooms: Sequence[_Room]) -> Iterator[_Fitted]:
    """Fit a drawing into each of several rooms, of which those after the first are across."""
    for number, (width, height) in enumerate(rooms):
        yield _fit(svg, form, width, height, across=number > 0)


def _fit(svg: str, form: str, width: float, height: float, *, across: bool) -> _Fitted:
    size = _SIZE.search(svg)
    if size is None:
        raise ValueError("only drawings made here can be printed: this one has no viewBox")
    drawn_width, drawn_height = float(size[1]), float(size[2])
    scale = min(width / drawn_width, height / drawn_height)
    text = drawn_width * scale / _TEXTS_ACROSS[form]
    if text > _LARGEST_TEXT_MM:
        scale, text = scale * _LARGEST_TEXT_MM / text, _LARGEST_TEXT_MM
    named = svg.replace(f'font-family="{FAMILY}"', f'font-family="{SANS}"')
    return _Fitted(named, round(drawn_width * scale, 2), scale, text, across)


def _caption(sheet: StageSheet | PlaceSheet, says: str, scale: float) -> str:
    # one unit of our drawings is one millimetre of the object
    told = _("{plane}, {stage}; scale 1 : {times}.")
    times = decimal(f"{1 / scale:.1f}")
    return f"{says} {told.format(plane=sheet.plane, stage=sheet.stage, times=times)}".strip()
