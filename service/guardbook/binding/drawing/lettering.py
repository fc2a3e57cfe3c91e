"""Text on a drawing: how wide it will be, where it breaks, and how names in any script are kept whole.

Which font a reader's machine will use is not known, so widths are those of a wide one: what fits by this
measure fits in the usual sans-serif fonts.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from guardbook.binding.drawing.svg import Mark, Value, mark

FAMILY = "sans-serif"
_ISOLATE, _END_ISOLATE = "\u2068", "\u2069"
# widths in parts of the text size, of DejaVu Sans rounded up
_NARROW = frozenset("iljtfrI.,:;'|!()[]/ \u2019\u00b7")
_WIDE = frozenset("mwMWGOQ@%\u2014\u2192\u2190")
_WIDTHS = {"narrow": 0.42, "usual": 0.64, "capital": 0.72, "wide": 0.98}


def width(text: str, size: float = 1.0) -> float:
    """Give how wide a line of text may become, in the unit of its size."""
    return sum(map(_width_of, text)) * size


@lru_cache(maxsize=4096)
def _width_of(character: str) -> float:
    if unicodedata.combining(character) or unicodedata.category(character) in {"Mn", "Me", "Cf"}:
        return 0.0
    if unicodedata.east_asian_width(character) in "WF" or character in _WIDE:
        return 1.0 if ord(character) > 0x2E80 else _WIDTHS["wide"]
    if character in _NARROW:
        return _WIDTHS["narrow"]
    return _WIDTHS["capital" if character.isupper() else "usual"]


def isolated(name: str) -> str:
    """Keep a name that runs from right to left from turning the words round it about (Unicode UAX 9)."""
    turns = any(unicodedata.bidirectional(character) in {"R", "AL"} for character in name)
    return f"{_ISOLATE}{name}{_END_ISOLATE}" if turns else name


def lines_of(text: str, room: float, size: float = 1.0) -> tuple[str, ...]:
    """Break text into lines no wider than `room`; a word that is wider by itself is broken too."""
    lines, used, space = [""], 0.0, width(" ", size)
    for word in _words(text, room, size):
        long = width(word, size)
        if lines[-1] and used + space + long > room:
            lines.append(word)
            used = long
        else:
            used += long + (space if lines[-1] else 0)
            lines[-1] = f"{lines[-1]} {word}".strip()
    return tuple(_balanced(lines))


def _words(text: str, room: float, size: float) -> Iterator[str]:
    for word in re.split(r"[ \t\n]+", text.strip()):
        rest = word
        while width(rest, size) > room and len(rest) > 1:
            taken = _that_fits(rest, room, size)
            yield rest[:taken]
            rest = rest[taken:]
        yield rest


def _that_fits(word: str, room: float, size: float) -> int:
    """Give how many characters fit, never parting a letter from its accents."""
    taken = 1
    while taken < len(word) and (width(word[: taken + 1], size) <= room or _width_of(word[taken]) == 0):
        taken += 1
    return taken


def _balanced(lines: list[str]) -> Iterator[str]:
    """Close an isolated name at the end of its line, and open it again on the next."""
    is_open = False
    for line in lines:
        begun = f"{_ISOLATE}{line}" if is_open else line
        is_open = begun.count(_ISOLATE) > begun.count(_END_ISOLATE)
        yield f"{begun}{_END_ISOLATE}" if is_open else begun


def text_mark(x: float, y: float, text: str, size: float, **attributes: Value | None) -> Mark:
    """Write one line with its baseline at y."""
    return mark("text", text, x=x, y=y, font_size=size, **attributes)


def paragraph(x: float, y: float, lines: tuple[str, ...], size: float, **attributes: Value | None) -> Mark:
    """Write lines under each other, the first baseline at y."""
    if len(lines) == 1:
        return text_mark(x, y, lines[0], size, **attributes)
    rows = (mark("tspan", line, x=x, dy=size * LEADING if at else None) for at, line in enumerate(lines))
    return mark("text", *rows, x=x, y=y, font_size=size, **attributes)


LEADING = 1.25


def spoken(text: str) -> str:
    """Make one line of a text that holds line breaks.

    >>> spoken("two" + chr(10) + " lines")
    'two lines'
    """
    return re.sub(r"\s+", " ", text).strip()
