"""What draws signs, and remembers which of them are on the drawing, so that the legend has just these."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import signs
from guardbook.binding.drawing.lettering import text_mark, width
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.strokes import HATCH_COUNT, INK, LINES, PAPER, Stroke, hatch, open_hatch
from guardbook.binding.drawing.svg import Mark, Value, group, mark, number, path_of
from guardbook.wording import _

SWATCH_WIDTH, SWATCH_HEIGHT = 2.6, 1.1
Point = tuple[float, float]


@dataclass(frozen=True)
class Sign:
    """A sign that is on the drawing: its words, and a sample about the origin, in mm on paper."""

    words: str
    sample: Mark


@dataclass
class Pen:
    """Draws in a text size of `unit` mm, names what it defines after `prefix`, and keeps what it used."""

    unit: float
    prefix: str
    look: Look = PLAIN
    signs: dict[str, Sign] = field(default_factory=dict)
    defined: dict[str, Mark] = field(default_factory=dict)
    _names: dict[str, int] = field(default_factory=dict)

    def id(self, name: str) -> str:
        """Give a name, unique in the page the drawing is put into; short, since it is written often."""
        at = self._names.setdefault(name, len(self._names))
        return f"{self.prefix}-{at}"

    def at(self, shape: Mark, name: str, point: Point, *, turn: float = 0.0, size: float = 1.0) -> Mark:
        """Put a shape of the text size at a point, turned clockwise by degrees; it is defined once a size."""
        sized = name if size == 1 else f"{name}-{number(size)}"
        if sized not in self.defined:
            scale = f"scale({number(self.unit * size)})"
            self.defined[sized] = mark("g", shape, id=self.id(sized), transform=scale)
        link, (x, y) = f"#{self.id(sized)}", point
        if turn:
            turned = f"translate({number(x)} {number(y)})rotate({number(turn)})"
            return mark("use", href=link, transform=turned)
        return mark("use", href=link, x=x or None, y=y or None)

    def linked(self, shapes: Iterable[Mark], piece: str, name: str) -> Mark:
        """Name what is drawn of a piece, and link it to its record where links are wanted."""
        title = mark("title", name)
        if self.look.link is None:
            return mark("g", title, *shapes)
        return mark("a", title, *shapes, href=self.look.link(piece))

    def hatch(self, at: int) -> str:
        """Give the fill of one of the hatches."""
        name = f"hatch-{at % HATCH_COUNT}"
        if name not in self.defined:
            self.defined[name] = hatch(at, self.unit, self.id(name))
        return f"url(#{self.id(name)})"

    def box(self, fill: str, stroke: Stroke) -> Mark:
        """Draw the box of a sample about the origin."""
        name = f"box-{stroke.weight:g}-{len(stroke.dashes)}"
        wide, high = SWATCH_WIDTH * self.unit, SWATCH_HEIGHT * self.unit
        if name not in self.defined:
            lines = stroke.attributes(self.unit)
            shape = mark("rect", x=-wide / 2, y=-high / 2, width=wide, height=high, id=self.id(name), **lines)
            self.defined[name] = shape
        return mark("use", href=f"#{self.id(name)}", fill=fill)

    def open_hatch(self, angle: int) -> str:
        """Give the fill of wide lines at an angle through which all that is beneath is seen."""
        name = f"open-hatch-{'down' if angle < 0 else 'up'}"
        self.defined.setdefault(name, open_hatch(angle, self.unit, self.id(name)))
        return f"url(#{self.id(name)})"

    def ring(self, point: Point) -> Mark:
        """Draw a ring round what one should look at."""
        return mark(
            "circle",
            cx=point[0],
            cy=point[1],
            r=0.85 * self.unit,
            fill="none",
            stroke=INK,
            stroke_width=0.07 * self.unit,
        )

    def use(self, key: str, words: str, sample: Mark) -> None:
        """Remember a sign for the legend."""
        self.signs.setdefault(key, Sign(words, sample))

    def line(self, key: str, stroke: Stroke, shape: BaseGeometry, words: str | None = None) -> Mark:
        """Draw a line along a geometry on paper."""
        half = SWATCH_WIDTH * self.unit / 2
        sample = mark("path", d=f"M{number(-half)} 0H{number(half)}", **stroke.attributes(self.unit))
        self.use(key, words or _(stroke.words), sample)
        return mark("path", d=path_of(shape), fill="none", **stroke.attributes(self.unit))

    def hole(
        self, kind: str, use: str | None, point: Point, *, hidden: bool = False, words: str | None = None
    ) -> Mark:
        """Draw the sign of a hole, filled by its use; smaller where it is hidden."""
        name = f"{kind}-{use or 'unknown'}"
        shape = signs.hole_sign(kind, use)
        size = 0.55 if hidden else 1.0
        self.use(f"hole {name}", words or signs.hole_words(kind, use), self.at(shape, name, (0, 0)))
        if hidden:
            words = _("the same, smaller: in a part that is hidden")
            self.use("hole-hidden", words, self.at(shape, name, (0, 0), size=size))
        return self.at(shape, name, point, size=size)

    def fold(self, words: str, use: str | None, shape: BaseGeometry) -> list[Mark]:
        """Draw a fold line in sight, its ends filled as the holes of its use are."""
        half = SWATCH_WIDTH * self.unit / 2
        stroke, key = LINES["fold"], f"fold {use or 'unknown'}"
        line = mark("path", d=f"M{number(-half)} 0H{number(half)}", **stroke.attributes(self.unit))
        inner = half - 0.25 * self.unit
        self.use(key, words, mark("g", line, *self._ends(use, ((-inner, 0), (inner, 0)))))
        points = [(float(x), float(y)) for x, y in shapely.get_coordinates(shape)]
        return [self.line(key, stroke, shape), *self._ends(use, (points[0], points[-1]))]

    def _ends(self, use: str | None, ends: tuple[Point, Point]) -> list[Mark]:
        shape, name = signs.fold_end(use), f"fold-end-{use or 'unknown'}"
        return [self.at(shape, name, end) for end in ends]

    def tag(self, text: str, x: float, y: float) -> Mark:
        """Write the small letters of a trace, their right end at x."""
        high = 0.75 * self.unit
        halo: dict[str, Value] = {"paint_order": "stroke", "stroke": PAPER, "stroke_width": 0.25 * high}
        return text_mark(x, y, text, high, text_anchor="end", **halo)

    def edge(self, kind: str, ends: tuple[Point, Point]) -> Mark:
        """Mark the middle of an edge."""
        (x, y), (to_x, to_y) = ends
        turn = math.degrees(math.atan2(to_y - y, to_x - x)) % 180
        shape = signs.edge_sign(kind)
        half = number(SWATCH_WIDTH / 2 * self.unit)
        base = mark("path", d=f"M-{half} 0H{half}", stroke=INK, stroke_width=0.14 * self.unit)
        sample = mark("g", base, self.at(shape, kind, (0, 0)))
        self.use(f"edge {kind}", signs.edge_words(kind), sample)
        return self.at(shape, kind, ((x + to_x) / 2, (y + to_y) / 2), turn=turn)

    def face(self, towards: bool, point: Point) -> Mark:  # noqa: FBT001 - as signs.face_sign
        """Draw which face is seen."""
        shape, name = signs.face_sign(towards), "face-front" if towards else "face-back"
        self.use(name, _(signs.FACES[towards]), self.at(shape, name, (0, 0)))
        return self.at(shape, name, point)

    def station(self, kind: str | None, point: Point, *, turn: float = 0.0) -> Mark:
        """Draw a sewing station that points along +x, or turned."""
        shape, name = signs.station_sign(kind), f"station-{kind or 'any'}"
        middle = (0.45 * self.unit, 0.0)
        self.use(name, signs.station_words(kind), self.at(shape, name, middle))
        return self.at(shape, name, point, turn=turn)

    def letter(self, text: str, x: float, y: float, *, size: float = 1.0) -> Mark:
        """Write a letter about x, its middle at y, to be put among others by `lettered`."""
        high = self.unit * size
        return text_mark(x, y + 0.36 * high, text, high)

    def lettered(self, letters: Iterable[Mark]) -> Mark | None:
        """Put letters together: bold, with white round them."""
        return group(letters, **self._bold)

    def letter_alone(self, text: str, x: float, y: float, *, size: float = 1.0) -> Mark:
        """Write a letter that stands among other marks."""
        return mark("g", self.letter(text, x, y, size=size), **self._bold)

    @property
    def _bold(self) -> dict[str, Value]:
        return {
            "text_anchor": "middle",
            "font_weight": "bold",
            "paint_order": "stroke",
            "stroke": PAPER,
            "stroke_width": 0.3 * self.unit,
        }

    def letter_width(self, text: str, size: float = 1.0) -> float:
        """Give how wide a letter of the key becomes, bold."""
        return width(text, self.unit * size) * 1.1
