"""A cut across a plane of a volume at one height: what lies over what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import axes, labels, piece_marks, sheet
from guardbook.binding.drawing.axes import zero_line
from guardbook.binding.drawing.bands import NOMINAL_MM, Band, Cut, Faces, cut_at, faces_of, telling_height
from guardbook.binding.drawing.flat import Flat, flat, plane_axes
from guardbook.binding.drawing.legend import Entry, Section, signs_section
from guardbook.binding.drawing.lettering import isolated, text_mark
from guardbook.binding.drawing.letters import place_of
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.plane import (
    letters_in_place,
    plane_of,
    scene_letters,
    stage_words,
)
from guardbook.binding.drawing.plane_words import certainty_words
from guardbook.binding.drawing.strokes import LINES
from guardbook.binding.drawing.svg import Mark, figure
from guardbook.binding.planes import PlaneName
from guardbook.binding.scene import Scene
from guardbook.binding.scene_parts import SceneItem
from guardbook.binding.scene_planes import ScenePlane
from guardbook.errors import WrongUse
from guardbook.records import terms
from guardbook.wording import _, said_later

# in text sizes: how thick the thinnest layer is drawn, and all together at most, and the body
_THINNEST, _ALL, _BODY = 1.2, 40.0, 2.6

_SHEET_WORDS: Mapping[str, str] = {
    "cover-outside": said_later("cover"),
    "cover-inside": said_later("cover"),
    "textblock-spine": said_later("back of the text block"),
    "fold": said_later("opened gathering"),
    "leaf": said_later("leaf"),
    "board-outside": said_later("board"),
    "board-inside": said_later("board"),
}
_NOT_TO_SCALE: Mapping[str, str] = {
    "cover-outside": said_later("cover, thickness not to scale"),
    "cover-inside": said_later("cover, thickness not to scale"),
    "textblock-spine": said_later("back of the text block, thickness not to scale"),
    "fold": said_later("opened gathering, thickness not to scale"),
    "leaf": said_later("leaf, thickness not to scale"),
    "board-outside": said_later("board, thickness not to scale"),
    "board-inside": said_later("board, thickness not to scale"),
}


def draw_section(scene: Scene, name: PlaneName, y: float | None = None, look: Look = PLAIN) -> str:
    """Draw the layers of a plane cut across at a height in mm from the tail, as SVG.

    Without a height, the one that cuts most pieces is taken. Widths are to scale; thicknesses are drawn
    larger, and the drawing says how many times. Raises WrongUse if nothing is known of the plane, or if
    nothing on it is measured.
    """
    plane = plane_of(scene, name)
    faces = faces_of(scene, plane)
    height = telling_height(faces) if y is None else y
    if height is None:
        message = _("Nothing on this plane is measured: {plane}, {volume}.")
        raise WrongUse(message=message.format(plane=plane.words, volume=scene.name))
    drawing, cut, titles = _planned(scene, faces, height, look)
    letters = scene_letters(scene, look)
    marks = list(_marks(drawing, plane, cut, letters))
    told = sheet.Told(titles=titles, alternative=tuple(_words(cut, faces, letters)))
    return drawing.finished(marks, _sections(drawing, faces, cut, letters), told)


def _planned(scene: Scene, faces: Faces, y: float, look: Look) -> tuple[Flat, Cut, tuple[str, ...]]:
    """Plan the sheet: its text size follows from the width, the stretch from the text size."""
    plane = faces.plane
    left, right = _reach(faces)
    titles = (
        scene.name,
        _("{stage} · {plane}, cut across {height} mm from the tail").format(
            stage=stage_words(scene), plane=plane.words, height=figure(round(y, 1))
        ),
    )
    tried = flat((left, 0.0, right, 1.0), titles, look, in_margin=True)
    unit = tried.pen.unit
    stretch = _stretch(cut_at(faces, y), unit)
    cut = cut_at(faces, y, _BODY * unit / stretch)
    low, high = cut.heights
    scales = _("Widths are to scale. Thicknesses are drawn {times} times as large.")
    said = (*titles, scales.format(times=figure(stretch)))
    drawing = flat(
        (left, low, right, high),
        said,
        look,
        reversed_x=plane.plane.is_seen_reversed,
        in_margin=True,
        stretch=stretch,
    )
    return drawing, cut, said


def _reach(faces: Faces) -> tuple[float, float]:
    left, _, right, _ = faces.plane.extent
    bounds = [item.outline.bounds for item in faces.behind if item.outline is not None]
    return min([left, *(box[0] for box in bounds)]), max([right, *(box[2] for box in bounds)])


def _stretch(cut: Cut, unit: float) -> float:
    """Give how many times thicknesses are enlarged, so that a letter fits into the thinnest layer."""
    low, high = cut.heights
    thinnest = min((band.top - band.base for band in cut.bands), default=NOMINAL_MM)
    wanted = min(_THINNEST * unit / thinnest, _ALL * unit / max(high - low, thinnest))
    return float(max(1, round(wanted)))


def _marks(drawing: Flat, plane: ScenePlane, cut: Cut, letters: Mapping[str, str]) -> Iterator[Mark]:
    yield from filter(None, [zero_line(drawing.pen, drawing.window)])
    yield from _body(drawing, plane, cut)
    for band in cut.bands:
        yield piece_marks.piece_mark(drawing.pen, _shape(drawing, band), band.item, letters[band.item.piece])
    for band in cut.bands:
        for hole in band.holes:
            at = drawing.window.at(hole.points[0][0], (band.base + band.top) / 2)
            yield drawing.pen.hole(hole.kind, hole.use, at)
    yield from letters_in_place(drawing, _wanted(drawing, cut, letters), _taken(drawing, cut))
    yield plane_axes(drawing, plane.plane, _up_words(plane))


def _up_words(plane: ScenePlane) -> axes.AxisWords:
    if plane.plane.plane in {"leaf", "fold"}:
        return axes.AxisWords(_("farther"), "", _("nearer"))
    ends = (_("inwards"), _("outwards"))
    low, high = ends if plane.plane.axes.outwards_is_nearer else reversed(ends)
    return axes.AxisWords(low, "", high)


def _body(drawing: Flat, plane: ScenePlane, cut: Cut) -> Iterator[Mark]:
    """Draw the text block, board or leaf that the pieces lie on, where no piece stands for it."""
    if cut.body is None or cut.body[0] == cut.body[1]:
        return
    known = plane.edges_known
    left, right = (plane.left, plane.right) if known else (drawing.window.left, drawing.window.right)
    box = drawing.window.shape(shapely.box(left, cut.body[0], right, cut.body[1]))
    words = _(_NOT_TO_SCALE[plane.plane.plane])
    yield drawing.pen.line("body", LINES["plane"], box, words)
    x, y = box.centroid.coords[0]
    size = 0.85 * drawing.pen.unit
    yield text_mark(x, y + 0.3 * size, _(_SHEET_WORDS[plane.plane.plane]), size, text_anchor="middle")


def _shape(drawing: Flat, band: Band) -> BaseGeometry:
    boxes = [shapely.box(left, band.base, right, band.top) for left, right in band.stretches]
    return drawing.window.shape(shapely.MultiPolygon(boxes) if len(boxes) > 1 else boxes[0])


def _wanted(drawing: Flat, cut: Cut, letters: Mapping[str, str]) -> Iterator[labels.Wanted]:
    for band in cut.bands:
        shape = _shape(drawing, band)
        yield piece_marks.wanted_letter(drawing.pen, letters[band.item.piece], shape, shape)


def _taken(drawing: Flat, cut: Cut) -> Iterator[BaseGeometry]:
    for band in cut.bands:
        for hole in band.holes:
            at = drawing.window.at(hole.points[0][0], (band.base + band.top) / 2)
            yield shapely.Point(at).buffer(0.5 * drawing.pen.unit, quad_segs=2)


def _sections(drawing: Flat, faces: Faces, cut: Cut, letters: Mapping[str, str]) -> Iterator[Section]:
    ordered = sorted(cut.bands, key=lambda band: place_of(letters[band.item.piece]))
    pieces = (
        piece_marks.piece_entry(
            drawing.pen,
            _band_words(band),
            letters[band.item.piece],
            band.item.piece,
            hatched=not band.item.is_sheet,
        )
        for band in ordered
    )
    yield Section(_("Pieces, by letter"), tuple(pieces))
    yield signs_section(drawing.pen)
    yield Section(_("Not in this cut"), tuple(Entry(words) for words in _left_out(faces, cut)))


def _band_words(band: Band) -> str:
    item = band.item
    said = [terms.label("function", item.function)] if item.function else []
    return f"{isolated(item.name)}: {', '.join([*said, _thickness_words(item), certainty_words(item)])}"


def _thickness_words(item: SceneItem) -> str:
    if item.thickness:
        return _("{thickness}\u00a0mm thick").format(thickness=figure(item.thickness))
    return _("thickness not measured, drawn as {thickness}\u00a0mm").format(thickness=figure(NOMINAL_MM))


def _left_out(faces: Faces, cut: Cut) -> Iterator[str]:
    """Name what is on the plane but not in the cut, and why."""
    in_cut = {id(band.item) for band in cut.bands}
    for item in faces.items:
        if id(item) not in in_cut:
            why = _("the cut does not meet it") if item.measured else _("its place is not measured")
            yield f"{isolated(item.name)}: {why}"


def _words(cut: Cut, faces: Faces, letters: Mapping[str, str]) -> Iterator[str]:
    yield _("From what lies nearest to you to what lies farthest: {count} layers.").format(
        count=len(cut.bands)
    )
    for at, band in enumerate(reversed(cut.bands), start=1):
        reach = _(" and ").join(
            _("x = {left} to {right} mm").format(left=_mm(left), right=_mm(right))
            for left, right in band.stretches
        )
        letter = letters[band.item.piece]
        holes = [_("Holes in the cut: {count}.").format(count=len(band.holes))] if band.holes else []
        on = _under(band, cut, letters)
        reaches = _("It reaches from {reach}.").format(reach=reach)
        yield " ".join([f"{at}. {letter}: {_band_words(band)}.", reaches, *on, *holes])
    yield from (f"{words}." for words in _left_out(faces, cut))


def _under(band: Band, cut: Cut, letters: Mapping[str, str]) -> list[str]:
    beneath = [letters[other.item.piece] for other in cut.bands if other.carries(band)]
    return [_("It lies on {pieces}.").format(pieces=", ".join(beneath))] if beneath else []


def _mm(value: float) -> str:
    return figure(round(value, 1))
