"""The drawn outline of a piece without a picture: what is painted in its place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from guardbook.binding.drawing.svg import NAMESPACE, mark, path_of
from guardbook.binding.transforms import Affine
from guardbook.errors import NotFound
from guardbook.exports.iiif.faces import Face, Part
from guardbook.exports.iiif.space import UNITS_PER_MM, Box, Space
from guardbook.wording import _

# half a millimetre: thin beside a strip, plain beside a board
STROKE = 0.5 * UNITS_PER_MM
INK, PAPER = "#222", "#f4ead5"


def outline_names(face: Face) -> dict[str, Part]:
    """Name the outlines of a face by the identifier of the piece (`face` for itself), numbered if twice."""
    seen: Counter[str] = Counter()
    named = {}
    for part in face.parts:
        identifier = part.piece.rpartition("/")[2] if part.piece else "face"
        seen[identifier] += 1
        again = f"-{seen[identifier]}" if seen[identifier] > 1 else ""
        named[f"{identifier}{again}.svg"] = part
    return named


def drawn_outline(faces: Iterable[Face], key: str, name: str) -> str:
    """Draw an outline by the key of its face and its name. Raises NotFound for one that is not there."""
    for face in faces:
        if face.key == key and (part := outline_names(face).get(name)):
            return draw(part, seen_reversed=face.seen_reversed)
    raise NotFound(message=_("There is no outline {name} on {face}.").format(name=name, face=key))


def draw(part: Part, *, seen_reversed: bool = False) -> str:
    """Draw the outline of a part as SVG, one unit a tenth of a millimetre; broken where not measured."""
    left, bottom, right, top = part.outline.bounds
    space = Space(left=left, bottom=bottom, right=right, top=top, seen_reversed=seen_reversed)
    box = Box(0, 0, space.width, space.height)
    path = mark(
        "path",
        d=path_of(_drawn_in(box, space).shape(part.outline)),
        fill=PAPER,
        fill_opacity=0.6,
        fill_rule="evenodd",
        stroke=INK,
        stroke_width=STROKE,
        stroke_dasharray=None if part.measured else f"{STROKE * 4:g} {STROKE * 3:g}",
    )
    words = (mark("title", part.name), mark("desc", part.words))
    view = f"0 0 {box.width} {box.height}"
    size = {"width": box.width, "height": box.height}
    return mark("svg", *words, path, xmlns=NAMESPACE, viewBox=view, role="img", **size)


def _drawn_in(box: Box, space: Space) -> Affine:
    """Give the way to the drawing, drawn in by half the stroke so that all of it is to be seen."""
    scale = [max(1 - STROKE / size, 0.5) for size in (box.width, box.height)]
    inset = [size * (1 - by) / 2 for size, by in zip((box.width, box.height), scale, strict=True)]
    return Affine(scale[0], 0, 0, scale[1], inset[0], inset[1]).after(space.way)
