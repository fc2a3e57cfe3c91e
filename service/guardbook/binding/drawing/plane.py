"""A plane of a volume at a stage, drawn to scale with every piece in its place."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import labels, piece_marks, signs, trace_marks
from guardbook.binding.drawing.axes import zero_line
from guardbook.binding.drawing.flat import Flat, flat, plane_axes
from guardbook.binding.drawing.legend import Entry, Section, signs_section
from guardbook.binding.drawing.letters import letters_of, place_of
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.plane_words import gap_words, piece_words, plane_words
from guardbook.binding.drawing.sheet import Told
from guardbook.binding.drawing.strokes import LINES
from guardbook.binding.drawing.svg import Mark
from guardbook.binding.drawing.visible import Seen, seen_parts
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneGap, SceneStation
from guardbook.binding.scene_planes import ScenePlane
from guardbook.errors import WrongUse
from guardbook.wording import _, said_later

# where more pieces than this are on a plane, room is kept in the margin for letters that find none elsewhere
_CROWD = 12
# a place or piece smaller than this share of another keeps its letter; and how much must be left for that
_SMALLER, _LEAST_OWN = 0.9, 0.05
EDGE_WORDS: Mapping[str, str] = {
    "cover-outside": said_later("edge of the cover"),
    "cover-inside": said_later("edge of the cover"),
    "textblock-spine": said_later("edge of the back of the text block"),
    "fold": said_later("edge of the opened gathering"),
    "leaf": said_later("edge of the leaf"),
    "board-outside": said_later("edge of the board"),
    "board-inside": said_later("edge of the board"),
}


def scene_letters(scene: Scene, look: Look) -> dict[str, str]:
    """Give every piece of a scene its letter, those on the first planes first."""
    pieces = [item.piece for plane in scene.planes for item in plane.items]
    gone = [gap.piece for plane in scene.planes for gap in plane.gaps]
    apart = [item.piece for item in scene.unplaced] + [gap.piece for gap in scene.unplaced_gaps]
    return letters_of([*pieces, *gone, *apart], look.letters)


def plane_of(scene: Scene, name: PlaneName) -> ScenePlane:
    """Give a plane of a scene. Raises WrongUse, naming those there are, if nothing is known of it."""
    plane = scene.plane(name)
    if plane is None:
        there = ", ".join(found.words for found in scene.planes)
        told = (
            _("{volume} has no such plane at this stage. Its planes are: {planes}.")
            if there
            else _("{volume} has no such plane at this stage. Its planes are: none.")
        )
        raise WrongUse(message=told.format(volume=scene.name, planes=there))
    return plane


def draw_plane(scene: Scene, name: PlaneName, look: Look = PLAIN) -> str:
    """Draw one plane of a scene as SVG, one unit of its viewBox being one millimetre of the volume.

    Raises WrongUse if nothing is known of that plane.
    """
    plane = plane_of(scene, name)
    letters = scene_letters(scene, look)
    sheet = shapely.box(plane.left, plane.bottom, plane.right, plane.top)
    seen = seen_parts(plane.items, sheet)
    titles = (scene.name, f"{stage_words(scene)} · {plane.words}")
    drawing = flat(
        plane.extent,
        titles,
        look,
        reversed_x=name.is_seen_reversed,
        in_margin=len(seen) > _CROWD or any(one.is_hidden for one in seen),
    )
    marks = [*plane_marks(drawing, plane, seen, letters), plane_axes(drawing, plane.plane)]
    told = Told(titles=titles, alternative=tuple(plane_words(plane, seen, letters)))
    sections = () if look.bare else plane_sections(drawing.pen, plane, seen, letters)
    return drawing.finished(marks, sections, told)


def plane_marks(
    drawing: Flat, plane: ScenePlane, seen: Sequence[Seen], letters: Mapping[str, str]
) -> Iterator[Mark]:
    """Draw all that is on a plane, and the letters, without axes."""
    pen, window = drawing.pen, drawing.window
    yield from _edges(drawing, plane)
    yield from filter(None, [zero_line(pen, window)])
    for one in seen:
        outline = piece_marks.on_paper(drawing, one.outline)
        yield piece_marks.piece_mark(pen, outline, one.item, letters[one.item.piece], window)
    yield from _hidden(drawing, seen)
    yield from _gaps(drawing, plane, seen, letters)
    yield from _cut_later(drawing, plane)
    yield from trace_marks.reckoned_folds(pen, window, plane.folds)
    yield from trace_marks.hidden_folds(pen, window, seen)
    for one in seen:
        yield from trace_marks.trace_marks(pen, window, one)
    yield from _marked(drawing, plane, seen)
    yield from _stations(drawing, plane.stations)
    yield from letters_in_place(drawing, _wanted(drawing, plane, seen, letters), _taken(drawing, seen))


def _edges(drawing: Flat, plane: ScenePlane) -> Iterator[Mark]:
    """Draw the edge of the plane where it is known, and no cover, board or leaf is drawn just there."""
    half = plane.half_spine or math.inf
    box = shapely.box(max(plane.left, -half), plane.bottom, min(plane.right, half), plane.top)
    sheets = (item.outline for item in plane.items if item.is_sheet and item.outline is not None)
    drawn = any(sheet.symmetric_difference(box).area < box.area / 100 for sheet in sheets)
    if plane.edges_known and not drawn:
        words = _(EDGE_WORDS[plane.plane.plane])
        yield drawing.pen.line("plane", LINES["plane"], drawing.window.shape(box.boundary), words)


def _gaps(
    drawing: Flat, plane: ScenePlane, seen: Iterable[Seen], letters: Mapping[str, str]
) -> Iterator[Mark]:
    """Draw where pieces are gone, corners struck where the place is empty as one looks at it."""
    there = shapely.union_all([one.area for one in seen if one.item.measured and not one.item.is_sheet])
    for gap in plane.gaps:
        if gap.outline is not None:
            outline = piece_marks.on_paper(drawing, gap.outline)
            covered = gap.outline.intersection(there).area > gap.outline.area / 2
            letter, crossed = letters[gap.piece], gap.measured and not covered
            yield piece_marks.gap_mark(drawing.pen, outline, gap, letter, crossed=crossed)


def _cut_later(drawing: Flat, plane: ScenePlane) -> Iterator[Mark]:
    """Draw the room there was for what was cut off later."""
    for part in plane.cut_later:
        if part.outline is not None:
            stroke = LINES["cut-later"]
            outline = piece_marks.on_paper(drawing, part.outline)
            yield drawing.pen.line("cut-later", stroke, outline.boundary)


def _hidden(drawing: Flat, seen: Iterable[Seen]) -> Iterator[Mark]:
    """Draw all hidden edges as one line."""
    lines = [piece_marks.on_paper(drawing, one.hidden_lines) for one in seen if not one.hidden_lines.is_empty]
    if lines:
        yield drawing.pen.line("hidden", LINES["hidden"], shapely.GeometryCollection(lines))


def _marked(drawing: Flat, plane: ScenePlane, seen: Iterable[Seen]) -> Iterator[Mark]:
    """Outline the piece that is asked about boldly, over all that lies on it."""
    marked = drawing.pen.look.marked
    there = [one.outline for one in seen if one.item.piece == marked]
    gone = [gap.outline for gap in plane.gaps if gap.piece == marked and gap.outline is not None]
    for kind, outlines in (("marked", there), ("marked-gone", gone)):
        if outlines:
            lines = [piece_marks.on_paper(drawing, outline).boundary for outline in outlines]
            yield drawing.pen.line(kind, LINES[kind], shapely.GeometryCollection(lines))


def _stations(drawing: Flat, stations: Iterable[SceneStation]) -> Iterator[Mark]:
    """Point to each sewing station from both sides of the plane."""
    window, aside = drawing.window, 0.25 * drawing.pen.unit
    for station in stations:
        _, y = window.at(0, station.y)
        yield drawing.pen.station(station.kind, (window.x - aside, y))
        yield drawing.pen.station(station.kind, (window.x + window.width + aside, y), turn=180)


def letters_in_place(
    drawing: Flat, wanted: Iterable[labels.Wanted], taken: Iterable[BaseGeometry]
) -> Iterator[Mark]:
    """Write letters where there is room for them, those with the least room first."""
    pen, frame = drawing.pen, drawing.frame.area
    outside: list[labels.Wanted] = []
    beside: list[labels.Placed] = []
    letters: list[Mark] = []
    for want, spot in labels.placed(sorted(wanted, key=lambda one: (one.area.area, one.text)), taken, frame):
        if spot is None:
            outside.append(want)
            continue
        beside += [spot] if spot.leads_to else []
        letters += piece_marks.letter_marks(pen, want, spot.x, spot.y)
        yield from piece_marks.face_marks(pen, want, spot.x, spot.y)
    left, right = labels.in_margin(outside, drawing.window, pen.unit, drawing.reach)
    letters += piece_marks.margin_letters(pen, left + right)
    leaders = piece_marks.leader_mark(pen, [*beside, *left, *right])
    yield from filter(None, [leaders, pen.lettered(letters)])


def _wanted(
    drawing: Flat, plane: ScenePlane, seen: Iterable[Seen], letters: Mapping[str, str]
) -> Iterator[labels.Wanted]:
    pen, window = drawing.pen, drawing.window
    for one in seen:
        yield piece_marks.wanted_letter(
            pen,
            letters[one.item.piece],
            window.shape(one.area),
            window.shape(one.outline),
            towards=one.item.front_towards_viewer,
            words="" if one.item.measured else _("not measured"),
            ground=one.item.is_sheet,
        )
    for gap, outline, own in _own_parts(plane, seen):
        yield piece_marks.wanted_letter(
            pen,
            piece_marks.gap_letter(letters[gap.piece]),
            window.shape(own),
            window.shape(outline),
            words="" if gap.measured else _("not measured"),
        )
    for part in plane.cut_later:
        if part.outline is not None:
            shape, words = window.shape(part.outline), _("cut off later")
            yield piece_marks.wanted_letter(pen, letters[part.piece], shape, shape, words=words)


def _own_parts(
    plane: ScenePlane, seen: Iterable[Seen]
) -> Iterator[tuple[SceneGap, BaseGeometry, BaseGeometry]]:
    """Give each place where something is gone, whole, and less the smaller places and pieces within it."""
    gaps = [(gap, gap.outline) for gap in plane.gaps if gap.outline is not None]
    pieces = [one.area for one in seen if not one.item.is_sheet and not one.area.is_empty]
    others = [*(outline for _gap, outline in gaps), *pieces]
    tree = shapely.STRtree(others)
    for gap, outline in gaps:
        near = (others[at] for at in tree.query(outline, predicate="intersects").tolist())
        within = [other for other in near if other.area < _SMALLER * outline.area]
        own = outline.difference(shapely.union_all(within)) if within else outline
        yield gap, outline, outline if own.area < _LEAST_OWN * outline.area else own


def _taken(drawing: Flat, seen: Iterable[Seen]) -> Iterator[BaseGeometry]:
    """Give the room that holes and the lines of folds take."""
    half = 0.5 * drawing.pen.unit
    for one in seen:
        for feature in filter(trace_marks.is_shown, one.item.features):
            points = [drawing.window.at(*point) for point in feature.points]
            if len(points) == 2 and feature.kind not in signs.EDGES:
                yield shapely.LineString(points)
            elif len(points) < 3:
                x, y = trace_marks.middle_of(points)
                yield shapely.box(x - half, y - half, x + half, y + half)


def plane_sections(
    pen: Pen, plane: ScenePlane, seen: Iterable[Seen], letters: Mapping[str, str]
) -> Iterator[Section]:
    """Give the legend of a plane: its pieces, those that are gone, the signs on it."""
    yield pieces_section(pen, seen, letters)
    gone = sorted(plane.gaps, key=lambda gap: place_of(letters[gap.piece]))
    gaps = (piece_marks.gap_entry(pen, gap_words(gap), letters[gap.piece], gap.piece) for gap in gone)
    yield Section(_("Gone since an earlier stage"), tuple(gaps))
    yield Section(_("There at this stage, and cut off later"), tuple(_cut_entries(pen, plane, letters)))
    yield signs_section(pen)


def _cut_entries(pen: Pen, plane: ScenePlane, letters: Mapping[str, str]) -> Iterator[Entry]:
    for part in plane.cut_later:
        yield piece_marks.piece_entry(pen, part.words, letters[part.piece], part.piece, hatched=False)


def plane_key_words(scene: Scene, name: PlaneName, look: Look = PLAIN) -> tuple[tuple[str, str, str], ...]:
    """Give what the letters on a plane stand for: each with its words and its piece (IRI), by letter."""
    plane, letters = plane_of(scene, name), scene_letters(scene, look)
    there = [(letters[item.piece], piece_words(item), item.piece) for item in plane.items]
    gone = [
        (piece_marks.gap_letter(letters[gap.piece]), gap_words(gap), gap.piece)
        for gap in sorted(plane.gaps, key=lambda gap: place_of(letters[gap.piece]))
    ]
    return (*sorted(dict.fromkeys(there), key=lambda one: place_of(one[0])), *gone)


def pieces_section(pen: Pen, seen: Iterable[Seen], letters: Mapping[str, str]) -> Section:
    """Give the legend of pieces, by letter; one that is seen in several parts is named once."""
    shown: dict[str, Seen] = {}
    for one in seen:
        letter = letters[one.item.piece]
        if letter not in shown or shown[letter].is_hidden:
            shown[letter] = one
    entries = (
        piece_marks.piece_entry(
            pen,
            piece_words(one.item),
            letter,
            one.item.piece,
            hatched=one.item.measured and not one.item.is_sheet,
            hidden=one.is_hidden,
        )
        for letter, one in sorted(shown.items(), key=lambda pair: place_of(pair[0]))
    )
    return Section(_("Pieces, by letter"), tuple(entries))


def stage_words(scene: Scene) -> str:
    """Say which of its stages a volume is drawn at."""
    if len(scene.stages) < 2:
        return scene.stage_words
    numbers = [stage.number for stage in scene.stages]
    return _("Stage {number} of {count}: {name}").format(
        number=numbers.index(scene.stage) + 1, count=len(numbers), name=scene.stage_words
    )
