"""A leaf that was cut up, its known pieces set out in its own frame, and what of it is missing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely

from guardbook.binding.drawing import axes, labels, piece_marks
from guardbook.binding.drawing.flat import Flat, flat
from guardbook.binding.drawing.legend import Entry, Section, signs_section
from guardbook.binding.drawing.lettering import isolated
from guardbook.binding.drawing.letters import letters_of, place_of
from guardbook.binding.drawing.look import PLAIN, Look
from guardbook.binding.drawing.plane import letters_in_place
from guardbook.binding.drawing.plane_words import certainty_words
from guardbook.binding.drawing.sheet import Told
from guardbook.binding.drawing.strokes import LINES
from guardbook.binding.drawing.svg import Mark, figure
from guardbook.binding.drawing.visible import Seen, seen_parts
from guardbook.binding.leaf_parts import CameFrom, LeafPiece, Rejoined, RejoinedLeaf
from guardbook.binding.scene_parts import SceneItem
from guardbook.records import terms
from guardbook.wording import _, ngettext, said_later

_MISSING = said_later("missing")


def draw_leaf(carrier: Rejoined, leaf: RejoinedLeaf, look: Look = PLAIN) -> str:
    """Draw a leaf of a carrier with its known pieces and missing parts, as SVG to scale."""
    whole = [piece for other in carrier.leaves for piece in other.pieces] + list(carrier.unplaced)
    letters = letters_of((piece.piece for piece in whole), look.letters)
    seen = seen_parts([_item(piece) for piece in leaf.pieces], shapely.GeometryCollection())
    titles = (carrier.name, f"{leaf_words(leaf)} · {_known(leaf)}")
    drawing = flat(_extent(leaf, seen), titles, look, in_margin=True)
    marks = list(_marks(drawing, leaf, seen, letters))
    told = Told(titles=titles, alternative=tuple(_words(leaf, letters)))
    return drawing.finished(marks, _sections(drawing, leaf, letters), told)


def leaf_words(leaf: RejoinedLeaf) -> str:
    """Call a leaf by its number or name, and the side it is seen from."""
    named = leaf.leaf[:1].upper() + leaf.leaf[1:]
    name = _("Leaf {number}").format(number=leaf.leaf) if leaf.leaf[:1].isdigit() else named
    return f"{name}, {terms.label('leaf-side', leaf.side)}" if leaf.side else name


def _known(leaf: RejoinedLeaf) -> str:
    count = len(leaf.pieces)
    if leaf.size_from == "pieces":
        return ngettext(
            "{count} piece known; how large the leaf was is not recorded",
            "{count} pieces known; how large the leaf was is not recorded",
            count,
        ).format(count=count)
    return ngettext(
        "{count} piece known, {share}% of its area", "{count} pieces known, {share}% of its area", count
    ).format(count=count, share=figure(round(leaf.known_share * 100)))


def _item(piece: LeafPiece) -> SceneItem:
    return SceneItem(
        piece=piece.piece,
        name=piece.name,
        words=piece.words,
        outline=piece.outline,
        certainty=piece.certainty,
        front_towards_viewer=piece.front_towards_viewer,
        image=piece.image,
        image_way=piece.image_way,
    )


def _extent(leaf: RejoinedLeaf, seen: Sequence[Seen]) -> tuple[float, float, float, float]:
    bounds = [(leaf.left, leaf.bottom, leaf.right, leaf.top), *(one.outline.bounds for one in seen)]
    left, bottom, right, top = zip(*bounds, strict=True)
    return min(left), min(bottom), max(*right, min(left) + 1), max(*top, min(bottom) + 1)


def _marks(
    drawing: Flat, leaf: RejoinedLeaf, seen: Sequence[Seen], letters: Mapping[str, str]
) -> Iterator[Mark]:
    pen, window = drawing.pen, drawing.window
    for part in leaf.missing:
        line = window.shape(part)
        yield pen.line(_MISSING, LINES["gap"], line, _("part of the leaf of which no piece is known"))
    for one in seen:
        outline = piece_marks.on_paper(drawing, one.outline)
        yield piece_marks.piece_mark(pen, outline, one.item, letters[one.item.piece], window)
    if leaf.size_from == "stated":
        box = shapely.box(leaf.left, leaf.bottom, leaf.right, leaf.top).boundary
        yield pen.line("plane", LINES["plane"], window.shape(box), _("edge of the leaf"))
    yield from letters_in_place(drawing, _wanted(drawing, leaf, seen, letters), ())
    across = axes.AxisWords(_("left"), _("mm from the left edge"), _("right"))
    up = axes.AxisWords(_("tail"), "mm", _("head"))
    yield axes.axes(pen, window, drawing.frame, across, up)


def _wanted(
    drawing: Flat, leaf: RejoinedLeaf, seen: Sequence[Seen], letters: Mapping[str, str]
) -> Iterator[labels.Wanted]:
    pen, window = drawing.pen, drawing.window
    placed = [piece for piece in leaf.pieces if piece.outline is not None]
    for one, piece in zip(seen, placed, strict=True):
        yield piece_marks.wanted_letter(
            pen,
            letters[piece.piece],
            window.shape(one.area),
            window.shape(one.outline),
            towards=piece.front_towards_viewer,
            words=_lines(piece, short=True),
        )
    for part in leaf.missing:
        area = window.shape(part)
        if area.area > 40 * pen.unit**2:
            yield piece_marks.wanted_letter(pen, _(_MISSING), area, area)


def _lines(piece: LeafPiece, *, short: bool) -> str:
    """Say which lines of the leaf a piece has."""
    first, last = piece.first_line, piece.last_line
    if first is None and last is None:
        return ""
    numbers = f"{first}–{last}" if first and last and first != last else str(first or last)
    if short:
        return numbers
    said = _("lines {numbers}") if "–" in numbers else _("line {numbers}")
    return said.format(numbers=numbers)


def _sections(drawing: Flat, leaf: RejoinedLeaf, letters: Mapping[str, str]) -> Iterator[Section]:
    pen = drawing.pen
    ordered = sorted(leaf.pieces, key=lambda piece: place_of(letters[piece.piece]))
    placed = [piece for piece in ordered if piece.outline is not None]
    entries = (
        piece_marks.piece_entry(pen, _piece_words(piece), letters[piece.piece], piece.piece, hatched=True)
        for piece in placed
    )
    yield Section(_("Pieces, by letter"), tuple(entries))
    apart = (Entry(_piece_words(piece)) for piece in ordered if piece.outline is None)
    yield Section(_("Of this leaf, place or size not known"), tuple(apart))
    yield signs_section(pen)
    yield Section(_("To note"), tuple(Entry(words) for words in _notes(leaf)))


def _piece_words(piece: LeafPiece) -> str:
    said = [_lines(piece, short=False), certainty_words(_item(piece)), *map(_from, piece.hosts)]
    return f"{isolated(piece.name)}: {', '.join(filter(None, said))}"


def _from(host: CameFrom) -> str:
    if host.shelfmark:
        return _("from {volume} ({shelfmark})").format(
            volume=isolated(host.name), shelfmark=isolated(host.shelfmark)
        )
    return _("from {volume}").format(volume=isolated(host.name))


def _notes(leaf: RejoinedLeaf) -> Iterator[str]:
    """Give what one should know beside the drawing: figures under letters, overlaps, missing lines."""
    if any(_lines(piece, short=True) for piece in leaf.pieces):
        yield _("Figures under a letter are the lines of the leaf that the piece bears.")
    for overlap in leaf.overlaps:
        yield overlap.words
    for gap in leaf.missing_lines:
        if any(count.lines >= 0.5 for count in gap.counts):
            yield gap.words


def _words(leaf: RejoinedLeaf, letters: Mapping[str, str]) -> Iterator[str]:
    yield f"{leaf_words(leaf)}: {_known(leaf)}."
    for piece in leaf.pieces:
        said = [f"{letters[piece.piece]}: {_piece_words(piece)}."]
        if piece.outline is not None:
            said.append(_("It lies {extent}.").format(extent=_within(piece.outline.bounds)))
        yield " ".join(said)
    for part in leaf.missing:
        yield _("Missing: a part {extent}.").format(extent=_within(part.bounds))
    yield from (gap.words for gap in leaf.missing_lines)
    yield from (overlap.words for overlap in leaf.overlaps)


def _within(bounds: tuple[float, float, float, float]) -> str:
    left, bottom, right, top = (figure(round(edge, 1)) for edge in bounds)
    return _("{left} to {right} mm from the left edge, {bottom} to {top} mm from the tail").format(
        left=left, right=right, bottom=bottom, top=top
    )
