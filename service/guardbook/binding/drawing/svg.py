"""SVG as text: escaped, two decimals, the same bytes each time."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.wording import decimal

NAMESPACE = "http://www.w3.org/2000/svg"
# what XML 1.0 cannot hold (clause 2.2, Characters)
_NOT_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_PLAIN = re.compile(r"[-\w #.,;:()/%+]*", re.ASCII).fullmatch

Value = str | float


class Mark(str):
    """One SVG element as it is written, all text in it escaped."""

    __slots__ = ()


def mark(name: str, *children: Mark | str | None, **attributes: Value | None) -> Mark:
    """Write an element; `stroke_width` becomes stroke-width, and what is None is left out.

    >>> mark("line", x1=0, x2=12.3456, stroke_width=0.5)
    '<line x1="0" x2="12.35" stroke-width="0.5"/>'
    """
    said = [f"<{name}"]
    for key, value in attributes.items():
        if value is not None:
            text = _quoted(value) if isinstance(value, str) else f'"{number(value)}"'
            said.append(f" {_named(key)}={text}")
    held = [child for child in children if child is not None]
    if not held:
        return Mark("".join(said) + "/>")
    said.append(">")
    said += [child if isinstance(child, Mark) else escape(readable(child)) for child in held]
    return Mark("".join(said) + f"</{name}>")


def _quoted(text: str) -> str:
    return f'"{text}"' if _PLAIN(text) else quoteattr(readable(text))


@lru_cache(maxsize=256)
def _named(key: str) -> str:
    return key.strip("_").replace("_", "-")


def group(marks: Iterable[Mark], **attributes: Value | None) -> Mark | None:
    """Put marks together, or give None where there are none."""
    found = tuple(marks)
    return mark("g", *found, **attributes) if found else None


@lru_cache(maxsize=8192)
def number(value: float) -> str:
    """Write a number with at most two decimals.

    >>> number(12.50), number(-0.001), number(3)
    ('12.5', '0', '3')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def figure(value: float) -> str:
    """Write a number as `number` does, for people: with the decimal sign of the language now spoken."""
    return decimal(number(value))


def readable(text: str) -> str:
    """Put the replacement character for what XML cannot hold."""
    return _NOT_XML.sub("\ufffd", text)


def path_of(geometry: BaseGeometry) -> str:
    """Give the path data of areas and lines, each point told from the last; single points are left out.

    >>> path_of(shapely.box(0, 0, 10, 5))
    'M10 0v5h-10v-5z'
    """
    return "".join(_path_pieces(geometry))


def _path_pieces(geometry: BaseGeometry) -> Iterator[str]:
    match geometry:
        case shapely.Polygon():
            for ring in (geometry.exterior, *geometry.interiors):
                yield _run(ring.coords[:-1]) + "z" if not ring.is_empty else ""
        case shapely.LineString():
            yield _run(geometry.coords)
        case _:
            for part in getattr(geometry, "geoms", ()):
                yield from _path_pieces(part)


def _run(points: Iterable[tuple[float, ...]]) -> str:
    """Tell points in hundredths from one to the next, so that no rounding adds up."""
    hundredths = [(round(x * 100), round(y * 100)) for x, y, *_ in points]
    said = [f"M{number(hundredths[0][0] / 100)} {number(hundredths[0][1] / 100)}"] if hundredths else []
    drawn = ""
    for (x, y), (to_x, to_y) in pairwise(hundredths):
        letter, values = _step(to_x - x, to_y - y)
        same = letter == drawn == "l"
        said.append(("" if same else letter) + _joined(values, after_number=same))
        drawn = letter
    return "".join(said)


def _step(dx: int, dy: int) -> tuple[str, tuple[int, ...]]:
    if dy == 0:
        return "h", (dx,)
    return ("v", (dy,)) if dx == 0 else ("l", (dx, dy))


def _joined(values: tuple[int, ...], *, after_number: bool) -> str:
    """Write numbers with a space between them, but where a minus sign parts them already."""
    said = ""
    for value in values:
        text = number(value / 100)
        said += text if text.startswith("-") or not (said or after_number) else f" {text}"
    return said
