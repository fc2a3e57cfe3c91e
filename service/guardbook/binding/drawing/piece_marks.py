"""How a piece is drawn: its outline by how well it is known, its hatch, its letter, its picture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import labels
from guardbook.binding.drawing.flat import Flat
from guardbook.binding.drawing.legend import Entry
from guardbook.binding.drawing.letters import place_of
from guardbook.binding.drawing.look import Picture
from guardbook.binding.drawing.pen import SWATCH_HEIGHT, SWATCH_WIDTH, Pen
from guardbook.binding.drawing.strokes import LINES, NOT_MEASURED, OUTLINES, PAPER, Stroke
from guardbook.binding.drawing.svg import Mark, mark, number, path_of
from guardbook.binding.drawing.window import Window
from guardbook.binding.scene_parts import SceneGap, SceneItem
from guardbook.binding.transforms import Affine
from guardbook.wording import _

# outlines are drawn to a three-thousandth of the width of the sheet: finer is not seen, and costs bytes
_FINENESS = 3000.0
_FACE_WIDTH = 0.95
# how long the strokes into the corners of an empty place are, in text sizes
_STRUCK = 1.3


def outline_stroke(certainty: str | None, *, measured: bool) -> Stroke:
    """Give the line of an outline by how well the place is known."""
    return OUTLINES.get(certainty or "unknown", OUTLINES["unknown"]) if measured else NOT_MEASURED


def on_paper(drawing: Flat, outline: BaseGeometry) -> BaseGeometry:
    """Give an outline on paper, as fine as can be seen."""
    return drawing.window.shape(outline).simplify(drawing.layout.width / _FINENESS)


def piece_mark(
    pen: Pen, outline: BaseGeometry, item: SceneItem, letter: str, window: Window | None = None
) -> Mark:
    """Draw a piece whose outline on paper is given, with its picture where that has a place in a window."""
    stroke = outline_stroke(item.certainty, measured=item.measured)
    pen.use(f"outline {stroke.words}", _(stroke.words), _line_sample(pen, stroke))
    line = stroke.attributes(pen.unit)
    path, picture = path_of(outline), pen.look.pictures.get(item.image or "")
    if picture and item.image_way and window:
        shown = picture_mark(pen, window.way.after(item.image_way), picture, path)
        shapes = [shown, mark("path", d=path, fill="none", **line)]
    else:
        shapes = [mark("path", d=path, fill=_fill(pen, item, letter), **line)]
    return pen.linked(shapes, item.piece, f"{letter}: {item.name}" if letter else item.name)


def _fill(pen: Pen, item: SceneItem, letter: str) -> str:
    if not item.measured:
        return "none"
    return PAPER if item.is_sheet else pen.hatch(place_of(letter))


def _line_sample(pen: Pen, stroke: Stroke) -> Mark:
    half = SWATCH_WIDTH * pen.unit / 2
    return mark("path", d=f"M{number(-half)} 0H{number(half)}", **stroke.attributes(pen.unit))


def piece_entry(
    pen: Pen, words: str, letter: str, piece: str, *, hatched: bool, hidden: bool = False
) -> Entry:
    """Give the line of the legend for a piece: its hatch and letter, but its edge where it is hidden."""
    fill = pen.hatch(place_of(letter)) if hatched and not hidden else PAPER
    return Entry(words, pen.box(fill, LINES["hidden"] if hidden else LINES["plane"]), letter, piece)


def gap_entry(pen: Pen, words: str, letter: str, piece: str) -> Entry:
    """Give the line of the legend for a piece that is gone."""
    return Entry(words, gap_sample(pen), gap_letter(letter), piece)


def gap_letter(letter: str) -> str:
    """Give the letter of a piece that is gone."""
    return f"({letter})"


def gap_mark(pen: Pen, outline: BaseGeometry, gap: SceneGap, letter: str, *, crossed: bool) -> Mark:
    """Draw where a piece lay that is gone: its outline dotted, the corners of an empty place struck."""
    stroke = LINES["gap" if crossed else "gap-filled"] if gap.measured else NOT_MEASURED
    struck = _struck(outline, _STRUCK * pen.unit).intersection(outline) if crossed else None
    path = path_of(outline) + (path_of(struck) if struck else "")
    sample = gap_sample(pen, crossed=crossed) if gap.measured else _line_sample(pen, stroke)
    pen.use(f"gap {stroke.words}", _(stroke.words), sample)
    shape = mark("path", d=path, fill="none", **stroke.attributes(pen.unit))
    return pen.linked([shape], gap.piece, f"{letter}: {gap.name}")


def _struck(outline: BaseGeometry, length: float) -> BaseGeometry:
    """Give a short stroke into each corner: of whole diagonals, those of nested places run together."""
    left, top, right, bottom = outline.bounds
    long = min(length, (right - left) / 2.2, (bottom - top) / 2.2)
    corners = [
        (x, y, dx, dy) for x, dx in ((left, long), (right, -long)) for y, dy in ((top, long), (bottom, -long))
    ]
    return shapely.MultiLineString([[(x, y), (x + dx, y + dy)] for x, y, dx, dy in corners])


def gap_sample(pen: Pen, *, crossed: bool = False) -> Mark:
    """Draw the sample of a gap for the legend."""
    x, y = SWATCH_WIDTH * pen.unit / 2, SWATCH_HEIGHT * pen.unit / 2
    box = shapely.box(-x, -y, x, y)
    path = path_of(box) + (path_of(_struck(box, x)) if crossed else "")
    return mark("path", d=path, fill="none", **LINES["gap"].attributes(pen.unit))


def picture_mark(pen: Pen, way: Affine, picture: Picture, outline: str) -> Mark:
    """Put a picture in its place by the way from its pixels to paper, cut to the outline of the piece."""
    numbers = (way.a, way.d, way.b, way.e, way.x_off, way.y_off)
    name = f"cut-{len(pen.defined)}"
    pen.defined[name] = mark("clipPath", mark("path", d=outline), id=pen.id(name))
    image = mark(
        "image",
        href=picture.address,
        width=picture.width,
        height=picture.height,
        preserveAspectRatio="none",
        transform=f"matrix({' '.join(f'{value:.6g}' for value in numbers)})",
    )
    return mark("g", image, clip_path=f"url(#{pen.id(name)})")


def wanted_letter(
    pen: Pen,
    letter: str,
    area: BaseGeometry,
    outline: BaseGeometry,
    *,
    towards: bool | None = None,
    words: str = "",
    ground: bool = False,
) -> labels.Wanted:
    """Say how much room a letter needs, with its sign for the face in sight and words under it."""
    wide = pen.letter_width(letter) + (0 if towards is None else _FACE_WIDTH * pen.unit)
    small = pen.letter_width(words, 0.62)
    high = (1.15 + (0.8 if words else 0)) * pen.unit
    room = max(wide, small) + 0.3 * pen.unit
    return labels.Wanted(letter, room, high, area, outline, towards, words, ground)


def letter_marks(pen: Pen, wanted: labels.Wanted, x: float, y: float) -> Iterator[Mark]:
    """Write a letter about a point, room left for its sign of the face in sight, with words under it."""
    up, aside = _off_middle(pen, wanted)
    yield pen.letter(wanted.text, x - aside, y - up)
    if wanted.words:
        yield pen.letter(wanted.words, x, y + 0.5 * pen.unit, size=0.62)


def face_marks(pen: Pen, wanted: labels.Wanted, x: float, y: float) -> Iterator[Mark]:
    """Draw the sign of the face in sight beside a letter about a point."""
    up, aside = _off_middle(pen, wanted)
    if wanted.towards is not None:
        right = x - aside + pen.letter_width(wanted.text) / 2 + 0.5 * pen.unit
        yield pen.face(wanted.towards, (right, y - up))


def _off_middle(pen: Pen, wanted: labels.Wanted) -> tuple[float, float]:
    up = 0.4 * pen.unit if wanted.words else 0.0
    return up, 0.0 if wanted.towards is None else _FACE_WIDTH / 2 * pen.unit


def leader_mark(pen: Pen, spots: Iterable[labels.Placed]) -> Mark | None:
    """Draw the lines from letters outside their pieces to these, and the dots the lines end in."""
    lines, dots = [], []
    for spot in spots:
        half = pen.letter_width(", ".join(spot.texts)) / 2 + 0.15 * pen.unit
        for x, y in spot.leads_to:
            start_x, start_y = spot.x, spot.y
            if abs(x - spot.x) > half:
                start_x += half if x > spot.x else -half
            else:
                start_y += 0.6 * pen.unit if y > spot.y else -0.6 * pen.unit
            lines.append(f"M{number(start_x)} {number(start_y)}L{number(x)} {number(y)}")
            dots.append(mark("circle", cx=x, cy=y, r=0.13 * pen.unit))
    if not lines:
        return None
    return mark("g", mark("path", d="".join(lines)), *dots, **LINES["leader"].attributes(pen.unit))


def margin_letters(pen: Pen, spots: Iterable[labels.Placed]) -> Iterator[Mark]:
    """Write letters in the margin."""
    for spot in spots:
        yield pen.letter(", ".join(spot.texts), spot.x, spot.y)
