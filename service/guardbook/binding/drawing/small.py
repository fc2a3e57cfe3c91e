"""One piece very small, for lists: its outline and its holes, with nothing written."""

from __future__ import annotations

import shapely

from guardbook.binding.drawing.signs import HOLES
from guardbook.binding.drawing.strokes import INK
from guardbook.binding.drawing.svg import NAMESPACE, mark, number, path_of
from guardbook.binding.outlines import shape_of
from guardbook.records.fragment import Fragment

# as shares of the longer side
_MARGIN, _HOLE = 0.04, 0.012
_SKIN = "#efe7d6"


def draw_small(piece: Fragment) -> str:
    """Draw the front of a piece as SVG without words, nothing where neither outline nor size are recorded."""
    outline = shape_of(piece).polygon
    if outline is None:
        return ""
    left, bottom, right, top = outline.bounds
    longer = max(right - left, top - bottom)
    margin = longer * _MARGIN
    # upwards on the piece is downwards in SVG
    turned = shapely.transform(outline, lambda points: points * [1, -1])
    path = mark(
        "path",
        d=path_of(turned),
        fill=_SKIN,
        stroke=INK,
        stroke_width=1.2,
        vector_effect="non-scaling-stroke",
    )
    holes = (
        mark("circle", cx=float(one.x), cy=-float(one.y), r=longer * _HOLE, fill=INK)
        for one in piece.features
        if one.feature_kind in HOLES and one.x is not None and one.y is not None
    )
    box = (left - margin, -top - margin, right - left + 2 * margin, top - bottom + 2 * margin)
    return mark("svg", path, *holes, xmlns=NAMESPACE, viewBox=" ".join(map(number, box)))
