"""Two bindings laid over each other: the traces of both, and which of them accounts for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from guardbook.binding.drawing import labels, piece_marks
from guardbook.binding.drawing.axes import zero_line
from guardbook.binding.drawing.flat import Flat, flat, plane_axes
from guardbook.binding.drawing.legend import Section, signs_section
from guardbook.binding.drawing.lettering import isolated
from guardbook.binding.drawing.letters import letters_of, place_of
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.overlay_traces import numbered_traces, row_marks
from guardbook.binding.drawing.pen import Pen
from guardbook.binding.drawing.plane import letters_in_place
from guardbook.binding.drawing.plane_words import piece_words
from guardbook.binding.drawing.sheet import Told
from guardbook.binding.drawing.strokes import Stroke
from guardbook.binding.drawing.svg import Mark, mark, number, path_of
from guardbook.binding.overlay_parts import Overlay, OverlaySide
from guardbook.binding.scene_parts import SceneItem
from guardbook.wording import _, said_later

# the hatch of what a text block would have covered: sloping one way for the first, the other for the second
_SLOPES: Mapping[str, int] = {"a": 45, "b": -45}
_COVERED: Mapping[str, Stroke] = {
    "a": Stroke(said_later("what the text block of A would have covered"), 0.1),
    "b": Stroke(said_later("what the text block of B would have covered"), 0.1, (0.7, 0.35)),
}
# in text sizes: between two measured pairs of rows above the drawing
_ROW = 1.5


def draw_overlay(overlay: Overlay, look: Look = PLAIN) -> str:
    """Draw two bindings laid over each other as SVG to scale.

    A and B are the two; each trace has the number of its row in `overlay.rows`, and a sign that says whether
    A, B, both or neither account for it.
    """
    titles = (
        _("Two laid over each other"),
        f"A: {_side(overlay.a)}",
        f"B: {_side(overlay.b)}",
        _registered(overlay),
    )
    above = 0.6 + _ROW * len(overlay.row_pairs) if overlay.row_pairs else 0.0
    drawing = flat(
        overlay.extent,
        titles,
        look,
        reversed_x=overlay.a.plane.is_seen_reversed,
        in_margin=True,
        above=above,
    )
    items = [*overlay.a.items, *overlay.b.items]
    letters = letters_of((item.piece for item in items), {"a": "A", "b": "B"})
    marks = list(_marks(drawing, overlay, letters))
    told = Told(titles=titles, alternative=tuple(_words(overlay, letters)))
    return drawing.finished(marks, _sections(drawing, overlay, items, letters), told)


def _side(side: OverlaySide) -> str:
    return _("{volume}, stage {number}: {stage}").format(
        volume=side.name, number=side.stage, stage=side.stage_words
    )


def _registered(overlay: Overlay) -> str:
    where = overlay.a.plane.phrase
    if overlay.shared is None:
        told = _(
            "Laid over each other {where} of A by the origins of the planes: they share no measured piece"
        )
        return told.format(where=where)
    return _("Laid over each other {where} of A by the piece they share: {piece}").format(
        where=where, piece=isolated(overlay.shared.name)
    )


def _marks(drawing: Flat, overlay: Overlay, letters: Mapping[str, str]) -> Iterator[Mark]:
    pen = drawing.pen
    yield from filter(None, [zero_line(pen, drawing.window)])
    if overlay.shared and overlay.shared.outline is not None:
        sheet = replace(overlay.shared, is_sheet=True)
        outline = piece_marks.on_paper(drawing, overlay.shared.outline)
        yield piece_marks.piece_mark(pen, outline, sheet, "", drawing.window)
    yield from _covered(drawing, overlay)
    items = [item for item in (*overlay.a.items, *overlay.b.items) if item.outline is not None]
    for item in items:
        yield _item(drawing, item, letters[item.piece])
    yield from row_marks(drawing, overlay.row_pairs, _ROW)
    traces, taken = numbered_traces(drawing, overlay)
    yield from traces
    wanted = (_wanted(drawing, item, letters[item.piece]) for item in items)
    yield from letters_in_place(drawing, wanted, taken)
    yield plane_axes(drawing, overlay.a.plane)


def _covered(drawing: Flat, overlay: Overlay) -> Iterator[Mark]:
    """Hatch what each text block would have covered: where both would, the hatches cross."""
    pen = drawing.pen
    for side, stroke in _COVERED.items():
        areas = [area.outline for area in overlay.covered if area.side == side]
        if areas:
            outline = path_of(drawing.window.shape(shapely.union_all(areas)))
            pen.use(f"covered {side}", _(stroke.words), _covered_sample(pen, side))
            fill = pen.open_hatch(_SLOPES[side])
            yield mark("path", d=outline, fill=fill, **stroke.attributes(pen.unit))


def _covered_sample(pen: Pen, side: str) -> Mark:
    unit = pen.unit
    box = path_of(shapely.box(-1.3 * unit, -0.55 * unit, 1.3 * unit, 0.55 * unit))
    down = 1 if _SLOPES[side] > 0 else -1
    rise, foot = number(down * 1.1 * unit), number(-down * 0.55 * unit)
    lines = "".join(f"M{number(at * unit)} {foot}l{number(1.1 * unit)} {rise}" for at in (-1.3, -0.55, 0.2))
    return mark(
        "g",
        mark("path", d=box, fill="none", **_COVERED[side].attributes(unit)),
        mark("path", d=lines, stroke="#888", stroke_width=0.05 * unit),
    )


def _item(drawing: Flat, item: SceneItem, letter: str) -> Mark:
    """Draw a piece of one side only: its outline alone, since both sides shine through each other."""
    stroke = piece_marks.outline_stroke(item.certainty, measured=item.measured)
    outline = piece_marks.on_paper(drawing, item.outline or shapely.GeometryCollection())
    line = drawing.pen.line(f"outline {stroke.words}", stroke, outline)
    return drawing.pen.linked([line], item.piece, f"{letter}: {item.name}")


def _wanted(drawing: Flat, item: SceneItem, letter: str) -> labels.Wanted:
    shape: BaseGeometry = drawing.window.shape(item.outline or shapely.GeometryCollection())
    return piece_marks.wanted_letter(drawing.pen, letter, shape, shape)


def _sections(
    drawing: Flat, overlay: Overlay, items: Iterable[SceneItem], letters: Mapping[str, str]
) -> Iterator[Section]:
    pen = drawing.pen
    entries = {
        letters[item.piece]: piece_marks.piece_entry(
            pen,
            _of(item, "A" if item in overlay.a.items else "B"),
            letters[item.piece],
            item.piece,
            hatched=False,
        )
        for item in items
    }
    yield Section(_("Pieces, by letter"), tuple(entries[letter] for letter in sorted(entries, key=place_of)))
    yield signs_section(pen)


def _words(overlay: Overlay, letters: Mapping[str, str]) -> Iterator[str]:
    yield overlay.words
    for pair in overlay.row_pairs:
        yield pair.words
    shown = {found.feature.id for found in overlay.features}
    for at, row in enumerate(overlay.rows, start=1):
        if row.feature not in shown:
            continue
        yield _("{number}. {trace}, {place}. Explained by: {use}.").format(
            number=at, trace=row.what, place=row.where, use=row.accounted
        )
    for side in (overlay.a, overlay.b):
        for item in side.items:
            yield f"{letters[item.piece]}: {_of(item, side.name)}."


def _of(item: SceneItem, side: str) -> str:
    return _("{piece}, of {binding}").format(piece=piece_words(item), binding=side)
