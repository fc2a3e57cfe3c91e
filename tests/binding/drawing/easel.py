"""A drawing read back: its parts, its paths as points, its texts, and what its legend explains."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from typing import Any

from guardbook.binding.drawing.svg import NAMESPACE
from guardbook.binding.scene import Scene
from tests.binding.bench import at, piece, placing, volume
from tests.binding.stage_set import book

_TAG = f"{{{NAMESPACE}}}"
_STEP = re.compile(r"([MmLlHhVvZz])|(-?\d+(?:\.\d+)?)")
Point = tuple[float, float]


@dataclass(frozen=True)
class Read:
    """A drawing parsed again."""

    svg: str

    @property
    def root(self) -> ET.Element:
        return ET.fromstring(self.svg)  # noqa: S314 - drawn a moment ago by ourselves

    @property
    def size(self) -> Point:
        """Give width and height of the viewBox."""
        _, _, width, height = map(float, self.root.attrib["viewBox"].split())
        return width, height

    @property
    def title(self) -> str:
        return _text(self.root, "title")

    @property
    def alternative(self) -> str:
        return _text(self.root, "desc")

    @property
    def drawing(self) -> ET.Element:
        return self.root.findall(f"{_TAG}g")[-2]

    @property
    def legend(self) -> ET.Element:
        return self.root.findall(f"{_TAG}g")[-1]

    def texts(self) -> list[str]:
        """Give all that is written on the sheet, line by line."""
        found = []
        for text in self.root.iter(f"{_TAG}text"):
            found += [line.text or "" for line in text] or [text.text or ""]
        return found

    def words(self) -> str:
        """Give all that is written on the sheet in one."""
        return " ".join(self.texts()).replace("\u00a0", " ")

    def piece(self, name: str) -> ET.Element:
        """Give the shape of the piece of a name."""
        return self.pieces(name)[0]

    def pieces(self, name: str) -> list[ET.Element]:
        """Give all shapes of the piece of a name."""
        return [
            shape
            for group in self.drawing.iter()
            if (title := group.find(f"{_TAG}title")) is not None
            and name in {title.text, (title.text or "").partition(": ")[2]}
            for shape in group.iter(f"{_TAG}path")
        ]

    def letter(self, name: str) -> str:
        """Give the letter of the piece of a name."""
        titles = (title.text or "" for title in self.drawing.iter(f"{_TAG}title"))
        return next(title.partition(":")[0] for title in titles if title.endswith(f": {name}"))

    def used(self, part: ET.Element) -> set[str]:
        """Give the signs a part of the sheet uses, by their shapes whatever their size; no frames."""
        defined = {f"#{one.attrib['id']}": one for one in self.root.iter() if "id" in one.attrib}
        signs = [defined[use.attrib["href"]] for use in part.iter(f"{_TAG}use")]
        return {
            "".join(ET.tostring(shape, encoding="unicode") for shape in sign)
            for sign in signs
            if sign.tag == f"{_TAG}g"
        }

    def dashes(self, part: ET.Element) -> set[tuple[str, str]]:
        """Give weights and dashes of the dashed lines in a part of the sheet."""
        lines = (line.attrib for line in part.iter() if "stroke-dasharray" in line.attrib)
        return {(line["stroke-width"], line["stroke-dasharray"]) for line in lines}


def _text(root: ET.Element, name: str) -> str:
    found = root.find(_TAG + name)
    assert found is not None
    return found.text or ""


def elements(part: ET.Element, name: str) -> list[ET.Element]:
    """Give all elements of a name in a part."""
    return list(part.iter(_TAG + name))


def points(path: str) -> list[Point]:
    """Give the points of path data in lines, as we write it."""
    steps = _STEP.findall(path)
    found: list[Point] = []
    letter, numbers = "", [0.0]
    numbers.clear()
    for command, value in steps:
        if command:
            letter = command
            continue
        numbers.append(float(value))
        wanted = {"h": 1, "v": 1}.get(letter.lower(), 2)
        if len(numbers) == wanted:
            found.append(_next(letter, numbers, found))
            numbers.clear()
    return found


def _next(letter: str, numbers: list[float], before: list[Point]) -> Point:
    x, y = before[-1] if before else (0.0, 0.0)
    match letter:
        case "h":
            return x + numbers[0], y
        case "v":
            return x, y + numbers[0]
        case "l":
            return x + numbers[0], y + numbers[1]
        case "H":
            return numbers[0], y
        case "V":
            return x, numbers[0]
        case _:
            return numbers[0], numbers[1]


def bounds(shape: ET.Element) -> tuple[float, float, float, float]:
    """Give left, top, right, bottom of a path."""
    across, down = zip(*points(shape.attrib["d"]), strict=True)
    return min(across), min(down), max(across), max(down)


def extent(shape: ET.Element) -> Point:
    """Give width and height of a path, to the hundredth."""
    left, top, right, bottom = bounds(shape)
    return round(right - left, 2), round(bottom - top, 2)


def shelf(*placed: tuple[str, str | None, str | None, dict[str, Any]], **fields: Any) -> Scene:
    """See a volume at its one stage, with pieces put on its back: name, x, y, and what else is said.

    Of what is said, `height`, `width`, `outline`, `features` and such are the piece's, the rest its place's.
    """
    own = ("height", "width", "outline", "features", "series", "thickness", "frontFace")
    records: list[Any] = [
        volume("Book", None, **{"height": "200", "spineWidth": "60", "width": "140"} | fields)
    ]
    for name, x, y, said in placed:
        records.append(piece(name, **{key: value for key, value in said.items() if key in own}))
        place = {key: value for key, value in said.items() if key not in own}
        of_placing = {key: place.pop(key) for key in ("function", "outwardFace") if key in place}
        records.append(placing(f"put {name}", name, "Book", 1, at(x, y, **place), **of_placing))
    return book(*records)
