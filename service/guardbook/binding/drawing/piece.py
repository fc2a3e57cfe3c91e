"""One piece by itself: a face of it to scale, with its holes, folds, edges and traces in its own frame."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from guardbook.binding.drawing import axes, piece_marks, signs, trace_marks
from guardbook.binding.drawing.flat import Flat, flat
from guardbook.binding.drawing.legend import Entry, Section, signs_section
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.plane_words import features_words
from guardbook.binding.drawing.sheet import Told
from guardbook.binding.drawing.svg import Mark, figure, number
from guardbook.binding.drawing.visible import NOTHING, Seen
from guardbook.binding.image_ways import image_of_face, image_way
from guardbook.binding.outlines import shape_of
from guardbook.binding.scene_parts import SceneFeature, SceneItem
from guardbook.binding.traces import is_on_front, other_face_of, traces_on
from guardbook.binding.transforms import SAME
from guardbook.errors import WrongUse
from guardbook.records import terms
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image
from guardbook.wording import _, decimals, language, ngettext


def can_be_drawn(piece: Fragment) -> bool:
    """Say whether a piece has an outline, or a height and a width, to be drawn by."""
    return shape_of(piece).polygon is not None


def faces_to_draw(piece: Fragment, images: Sequence[Image] = ()) -> tuple[bool, ...]:
    """Give the faces worth drawing: the front (True), and the back where something is known of it alone."""
    own = any(is_on_front(trace.face, piece.front_face) is False for trace in piece.features)
    pictured = image_of_face(piece, images, front=False) is not None
    return (True, False) if own or pictured else (True,)


def draw_piece(
    piece: Fragment, images: Iterable[Image] = (), look: Look = PLAIN, *, front: bool = True
) -> str:
    """Draw the front or the back of a piece as SVG, one unit of its viewBox being one millimetre of it.

    Raises WrongUse for a piece of which neither an outline nor a height and a width are known.
    """
    item = _item(piece, list(images), front=front)
    if item.outline is None:
        raise WrongUse(
            message=_(
                "{piece} cannot be drawn: neither its outline nor its height and width are recorded. Measure "
                "its height and width."
            ).format(piece=piece.display_title)
        )
    seen = Seen(item, item.outline, item.outline, NOTHING)
    titles = (piece.display_title, _face_words(piece, item, front=front))
    drawing = flat(item.outline.bounds, titles, look, reversed_x=not front)
    marks = list(_marks(drawing, seen))
    notes = tuple(_notes(piece, item))
    told = Told(titles=titles, alternative=(f"{titles[1]}.", *features_words(item.features), *notes))
    to_note = Section(_("To note"), tuple(map(Entry, notes)))
    axis = _axes(drawing, front=front)
    return drawing.finished([*marks, axis], [signs_section(drawing.pen), to_note], told)


def _item(piece: Fragment, images: Sequence[Image], *, front: bool) -> SceneItem:
    image = image_of_face(piece, images, front=front)
    return SceneItem(
        piece=piece.id,
        name=piece.display_title,
        words="",
        outline=shape_of(piece).polygon,
        certainty="measured",
        is_sheet=True,
        front_towards_viewer=front,
        way=SAME,
        image=image.id if image else None,
        image_way=image_way(image, piece, front=front) if image else None,
        features=traces_on(piece, SAME, front_towards_viewer=front),
    )


def _face_words(piece: Fragment, item: SceneItem, *, front: bool) -> str:
    left, bottom, right, top = item.outline.bounds if item.outline else (0, 0, 0, 0)
    size = {"height": figure(round(top - bottom, 1)), "width": figure(round(right - left, 1))}
    name = piece.front_face if front else other_face_of(piece.front_face)
    face = terms.label("piece-face", name, language()) if name not in {None, "front", "back"} else ""
    if face and front:
        return _("The front ({face}), {height} × {width} mm").format(face=face, **size)
    if face:
        return _("The back ({face}), {height} × {width} mm").format(face=face, **size)
    said = _("The front, {height} × {width} mm") if front else _("The back, {height} × {width} mm")
    return said.format(**size)


def _marks(drawing: Flat, seen: Seen) -> Iterator[Mark]:
    pen, window = drawing.pen, drawing.window
    outline = piece_marks.on_paper(drawing, seen.outline)
    yield piece_marks.piece_mark(pen, outline, seen.item, "", window)
    yield from trace_marks.trace_marks(pen, window, seen)


def _axes(drawing: Flat, *, front: bool) -> Mark:
    if front:
        across = axes.AxisWords(_("left"), _("mm from the left edge"), _("right"))
    else:
        across = axes.AxisWords(_("the front’s right"), _("mm, as on the front"), _("the front’s left"))
    up = axes.AxisWords(_("tail"), "mm", _("head"))
    return axes.axes(drawing.pen, drawing.window, drawing.frame, across, up)


def _notes(piece: Fragment, item: SceneItem) -> Iterator[str]:
    """Tell the holes series by series as they are measured up, from the tail, and what has no place."""
    for (kind, use, _series), heights in _holes(item.features).items():
        counts = Counter(round(y, 1) for y in sorted(heights))
        listed = decimals(f"{count} × {number(y)}" if count > 1 else number(y) for y, count in counts.items())
        yield _("{holes}, from the tail: {heights} mm").format(
            holes=signs.hole_words(kind, use), heights=listed
        )
    without = [trace for trace in piece.features if trace.x is None or trace.y is None]
    for kind, count in Counter(trace.feature_kind for trace in without).items():
        label = terms.label("feature", kind, language())
        yield ngettext(
            "{count} × {trace}, its place on the piece not recorded",
            "{count} × {trace}, their places on the piece not recorded",
            count,
        ).format(count=count, trace=label)


def _holes(features: Iterable[SceneFeature]) -> Mapping[tuple[str, str | None, str | None], list[float]]:
    """Give the heights of holes by kind, use and series; wormholes belong to none."""
    found: dict[tuple[str, str | None, str | None], list[float]] = defaultdict(list)
    for trace in features:
        if trace.kind in signs.HOLES and trace.kind != "wormhole" and len(trace.points) == 1:
            found[trace.kind, trace.use, trace.series].append(trace.points[0][1])
    return found
