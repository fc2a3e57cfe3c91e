"""The closed volume: its outside, and the insides of its boards with all that folds over onto them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from guardbook.binding.drawing import axes, sheet
from guardbook.binding.drawing.closed_planes import closed_planes
from guardbook.binding.drawing.flat import Flat
from guardbook.binding.drawing.legend import signs_section
from guardbook.binding.drawing.lettering import lines_of, paragraph
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.plane import pieces_section, plane_marks, scene_letters, stage_words
from guardbook.binding.drawing.plane_words import plane_words
from guardbook.binding.drawing.svg import Mark
from guardbook.binding.drawing.trace_marks import middle_of
from guardbook.binding.drawing.visible import NOTHING, Seen, seen_parts
from guardbook.binding.drawing.window import Window
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneFeature
from guardbook.binding.scene_planes import ScenePlane
from guardbook.errors import WrongUse
from guardbook.wording import _, said_later

# in text sizes: between the faces, above them for their names, round all of them
_GAP, _NAME, _PAD = 2.2, 3.4, 1.2
_NAMES: Mapping[tuple[str, str | None], str] = {
    ("board-outside", "lower"): said_later("Lower board, outside"),
    ("cover-outside", None): said_later("Spine"),
    ("board-outside", "upper"): said_later("Upper board, outside"),
    ("board-inside", "upper"): said_later("Inside, upper board"),
    ("board-inside", "lower"): said_later("Inside, lower board"),
}


@dataclass(frozen=True)
class _Face:
    """One face of the closed volume, its place on the sheet, and what is seen there."""

    plane: ScenePlane
    window: Window
    seen: tuple[Seen, ...]

    @property
    def name(self) -> str:
        return _(_NAMES[self.plane.plane.plane, self.plane.plane.side])


def draw_closed(scene: Scene, look: Look = PLAIN) -> str:
    """Draw a volume closed, face by face, as SVG to scale: what reaches past an edge is folded over it.

    Raises WrongUse if neither the joints of the cover nor the width of the spine are known.
    """
    rows = _rows(closed_planes(scene))
    if not rows:
        raise WrongUse(
            message=_(
                "{volume} cannot be drawn closed: neither the joints of its cover nor the width of its spine "
                "are recorded. Record the width of the spine."
            ).format(volume=scene.name)
        )
    titles = (
        scene.name,
        _("{stage} · Closed, face by face, with all that folds over an edge").format(
            stage=stage_words(scene)
        ),
        _("Only what can be seen is drawn."),
    )
    layout = _planned(rows, titles, look)
    pen = Pen(layout.unit, look.prefix(" · ".join(titles)), look)
    faces = tuple(_placed(rows, layout))
    letters = scene_letters(scene, look)
    marks = [mark for face in faces for mark in _face_marks(layout, pen, face, letters)]
    bottom = max(face.window.y + face.window.height for face in faces) + 1.6 * layout.unit
    room = min(layout.width - layout.x, 40 * layout.unit)
    marks.append(axes.scale_bar(pen, layout.x, bottom, room, layout.width))
    seen = [one for face in faces for one in face.seen]
    told = sheet.Told(titles=titles, alternative=tuple(_words(faces, letters)))
    sections = [pieces_section(pen, seen, letters), signs_section(pen)]
    below, linked = bottom + 3.2 * layout.unit, look.link is not None
    return sheet.sheet(layout, pen, marks, sections, told, bottom=below, linked=linked)


def _rows(planes: Sequence[ScenePlane]) -> tuple[tuple[ScenePlane, ...], ...]:
    """Give the outside in one row, the insides in another where anything is there."""
    rows = (tuple(planes[:3]), tuple(planes[3:]))
    return tuple(row for at, row in enumerate(rows) if row and (at == 0 or any(p.items for p in row)))


def _planned(rows: Sequence[Sequence[ScenePlane]], titles: Sequence[str], look: Look) -> sheet.Plan:
    wide = max(sum(plane.right - plane.left for plane in row) for row in rows)
    high = sum(max(plane.top - plane.bottom for plane in row) for row in rows)
    margins = sheet.Margins(
        left=_PAD, right=_PAD + 2 * _GAP, top=_NAME, bottom=(len(rows) - 1) * (_NAME + _GAP) + 5.6
    )
    return sheet.plan(wide, high, margins, titles, narrow=look.narrow, beside=False, share=0.85)


def _placed(rows: Sequence[Sequence[ScenePlane]], layout: sheet.Plan) -> Iterator[_Face]:
    """Set the outside in one row, as if one saw the volume opened, and the insides in the next."""
    y = layout.y
    for row in rows:
        x = layout.x
        for plane in row:
            window = Window(
                left=plane.left,
                bottom=plane.bottom,
                right=plane.right,
                top=plane.top,
                x=x,
                y=y,
                reversed=plane.plane.is_seen_reversed,
            )
            box = shapely.box(plane.left, plane.bottom, plane.right, plane.top)
            yield _Face(plane, window, tuple(_in_sight(seen_parts(plane.items, box))))
            x += window.width + _GAP * layout.unit
        y += max(plane.top - plane.bottom for plane in row) + (_NAME + _GAP) * layout.unit


def _in_sight(seen: Sequence[Seen]) -> Iterator[Seen]:
    """Leave out what is hidden, pieces, lines and traces: one looks at the volume, not into it."""
    for one in seen:
        if not one.is_hidden:
            features = tuple(part for trace in one.item.features for part in _seen_traces(one, trace))
            yield replace(one, item=replace(one.item, features=features), hidden_lines=NOTHING)


def _seen_traces(one: Seen, trace: SceneFeature) -> Iterator[SceneFeature]:
    """Give a trace if it is in sight, and of a fold or edge the parts that are."""
    if len(trace.points) != 2:
        if one.sees([middle_of(trace.points)])[0]:
            yield trace
        return
    line = shapely.LineString(trace.points).intersection(one.sight)
    for part in getattr(line, "geoms", [line]):
        points = [(float(x), float(y)) for x, y in shapely.get_coordinates(part)]
        if len(points) > 1:
            yield replace(trace, points=(points[0], points[-1]))


def _face_marks(layout: sheet.Plan, pen: Pen, face: _Face, letters: Mapping[str, str]) -> Iterator[Mark]:
    drawing = Flat(layout, pen, face.window, face.window, reach=_GAP / 2 * pen.unit)
    yield from plane_marks(drawing, face.plane, face.seen, letters)
    size = 0.9 * pen.unit
    lines = lines_of(face.name, face.window.width + _GAP * pen.unit, size)
    y = face.window.y - (0.7 + 1.25 * (len(lines) - 1)) * size
    yield paragraph(face.window.x, y, lines, size, font_weight="bold")


def _words(faces: Sequence[_Face], letters: Mapping[str, str]) -> Iterator[str]:
    for face in faces:
        yield f"{face.name}:"
        yield from plane_words(face.plane, face.seen, letters)
