"""Drawings of a volume on paper: which form of one, and how large, so that it can be read and measured."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from guardbook.binding.drawing.lettering import FAMILY
from guardbook.exports.paper.blocks import Drawing, Plate
from guardbook.exports.paper.fonts import SANS
from guardbook.wording import _

_SIZE = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)"')
_DESCRIBED = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_ENTITIES = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&amp;": "&"}
# text sizes across a wide and a narrow drawing, as the drawings are made
_TEXTS_ACROSS = {"wide": 84.0, "narrow": 36.0}
# what a page leaves for a drawing and its caption, in mm, upright; the smaller of A4 and Letter
ROOM = (176.0, 226.0)
# text on a drawing can be read from this size on (common practice, no published source)
_READABLE_MM = 1.9
# larger text than this on a drawing only takes up paper
_LARGEST_TEXT_MM = 3.0


@dataclass(frozen=True, kw_only=True)
class StageSheet:
    """A volume at a stage, drawn wide and narrow; `stage` names the stage, `plane` what is shown."""

    wide: str
    narrow: str
    stage: str
    plane: str


@dataclass(frozen=True)
class _Fitted:
    svg: str
    wide: float
    scale: float
    text: float
    across: bool


def plate(sheet: StageSheet, says: str) -> Plate:
    """Give a drawing a page, upright or across, as large as goes."""
    # a page across is wider by its margins and lower by its head and caption
    rooms = (ROOM, (ROOM[1] + 30, ROOM[0] - 30))
    # the largest that can be read, of two alike the upright one; if none can be, the one read most easily
    best = max(_tried(sheet, rooms), key=lambda one: (min(one.text, _READABLE_MM), one.scale, not one.across))
    return Plate(best.svg, _caption(sheet, says, best.scale), described(best.svg), best.wide, best.across)


def drawing(sheet: StageSheet, says: str, width: float, height: float) -> Drawing:
    """Fit a drawing into the run of a text, into a width and height in mm."""
    best = max(_tried(sheet, ((width, height),)), key=lambda one: one.scale)
    return Drawing(best.svg, _caption(sheet, says, best.scale), described(best.svg), best.wide)


def described(svg: str) -> str:
    """Give the text alternative of one of our drawings."""
    found = _DESCRIBED.search(svg)
    text = found[1] if found else ""
    for written, meant in _ENTITIES.items():
        text = text.replace(written, meant)
    return text


def _tried(sheet: StageSheet, rooms: Iterable[tuple[float, float]]) -> list[_Fitted]:
    return [
        _fit(svg, form, width, height, across=number > 0)
        for form, svg in (("wide", sheet.wide), ("narrow", sheet.narrow))
        for number, (width, height) in enumerate(rooms)
    ]


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


def _caption(sheet: StageSheet, says: str, scale: float) -> str:
    # one unit of our drawings is one millimetre of the object
    told = _("{plane}, {stage}; scale 1 : {times}.")
    return f"{says} {told.format(plane=sheet.plane, stage=sheet.stage, times=f'{1 / scale:.1f}')}".strip()
