"""Signs in the writing of two pieces: pitch, ruling, script, letters cut through, their lines in a leaf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from guardbook.binding.leaf_pieces import Cut, way_on_leaf
from guardbook.binding.outlines import shape_of
from guardbook.evidence.signs import Sign, either, not_seen, seen, unknown
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Written
from guardbook.records import terms
from guardbook.records.fragment import CarrierPlace, Fragment
from guardbook.wording import _, decimal, language

# pieces this near to each other on their leaf were cut from each other (common practice, no published source)
MEET_MM = 3.0


def same_line_pitch(pair: Written, within_mm: float) -> Sign:
    """See whether the lines of two pieces are equally far apart."""
    one, two = pair.one.line_pitch, pair.two.line_pitch
    if one is None or two is None:
        return unknown(_("Measure the line pitch of both over as many lines as there are."))
    told = _("line pitch {one} and {two} mm").format(one=decimal(f"{one:.1f}"), two=decimal(f"{two:.1f}"))
    return either(there=abs(one - two) <= within_mm, yes=told, no=told)


def same_ruling(pair: Written) -> Sign:
    """See whether two pieces are ruled in the same way."""
    one, two = pair.one.ruling, pair.two.ruling
    if one is None or two is None:
        return unknown(_("Describe the ruling of both in the same words."))
    if one == two:
        return seen(_("the same ruling: {ruling}").format(ruling=one))
    return not_seen(_("the ruling is not the same: {one}; {two}").format(one=one, two=two))


def same_script(pair: Written) -> Sign:
    """See whether two pieces are written in the same script."""
    one, two = pair.one.script, pair.two.script
    if one is None or two is None or "unknown" in {one, two}:
        return unknown(_("Name the script of both."))
    names = [terms.label("script", slug, language()) for slug in (one, two)]
    if one == two:
        return seen(_("the same script: {script}").format(script=names[0]))
    return not_seen(_("the script is not the same: {one}; {two}").format(one=names[0], two=names[1]))


def letters_go_on(pair: Written) -> Sign:
    """See whether letters cut through at the edge of one go on in the other, as a trace that was recorded.

    A letter that lies on both was written by one hand on one leaf; a trace that was only inferred is none.
    """
    found = [
        (piece, other, trace)
        for piece, other in ((pair.one, pair.two), (pair.two, pair.one))
        for trace in piece.features
        if trace.feature_kind == "inscription"
        and trace.certainty != "inferred"
        and other.id in trace.continues_on
    ]
    lined = list(_lined(pair))
    if not found and lined and not any(lines.goes_on for lines in lined):
        return not_seen(_("by their recorded places in one leaf they do not touch"))
    if not found:
        return unknown(
            _(
                "Look along the edges of both for letters cut through, and record one as an inscription that"
                " goes on on the other piece."
            )
        )
    told = _("letters cut through at the edge of {piece} ({id}) go on in {other}")
    return seen(
        "; ".join(
            told.format(
                piece=quoted(piece.display_title),
                id=trace.id.removeprefix("#"),
                other=quoted(other.display_title),
            )
            for piece, other, trace in found
        ),
        tuple(f"{piece.id}{trace.id}" for piece, _other, trace in found),
    )


def text_goes_on(pair: Written) -> Sign:
    """See whether, by their places in one leaf, one holds the next lines or the rest of the same ones."""
    lined = list(_lined(pair))
    if not lined:
        return unknown(_say_where())
    for lines in lined:
        if lines.goes_on:
            return seen(
                _("by their recorded places in one leaf the text goes on: lines {one} and {two}").format(
                    one=_told(lines.one), two=_told(lines.two)
                )
            )
    return not_seen(_("the text does not go on from one to the other"))


def same_lines_twice(pair: Written) -> Sign:
    """See whether both are said to hold the same lines of one leaf, and not side by side."""
    lined = list(_lined(pair))
    if not lined:
        return unknown(_say_where())
    for lines in lined:
        if lines.shared and lines.beside is not True:
            return seen(
                _("both are said to hold the same lines of one leaf: {one} and {two}").format(
                    one=_told(lines.one), two=_told(lines.two)
                )
            )
    return not_seen(_("they do not hold the same part of the same lines"))


@dataclass(frozen=True)
class _Lines:
    """The lines of two pieces in one leaf, first and last, and where they lay across it, in mm."""

    one: tuple[int, int]
    two: tuple[int, int]
    across_one: tuple[float, float] | None
    across_two: tuple[float, float] | None

    @property
    def shared(self) -> bool:
        """Say whether both hold a line of the same number."""
        return self.one[0] <= self.two[1] and self.two[0] <= self.one[1]

    @property
    def apart_mm(self) -> float | None:
        """Give how far they lay apart across the leaf, less than 0 where both held the same part of it."""
        if self.across_one is None or self.across_two is None:
            return None
        return max(self.across_one[0], self.across_two[0]) - min(self.across_one[1], self.across_two[1])

    @property
    def beside(self) -> bool | None:
        """Say whether they lay side by side, None where that is not told."""
        return None if self.apart_mm is None else self.apart_mm >= -MEET_MM

    @property
    def goes_on(self) -> bool:
        """Say whether nothing is between them, in the next line or across the same ones."""
        apart = self.apart_mm
        if self.shared:
            return apart is not None and abs(apart) <= MEET_MM
        next_line = self.two[0] - self.one[1] == 1 or self.one[0] - self.two[1] == 1
        return next_line and (apart is None or apart < 0)


def _lined(pair: Written) -> Iterator[_Lines]:
    """Give the lines of both wherever they are said to lie on the same side of the same leaf."""
    for a, b in product(pair.one.carrier_places, pair.two.carrier_places):
        one, two = _numbers(a), _numbers(b)
        if one and two and _one_leaf(a, b):
            yield _Lines(one, two, _across(pair.one, a), _across(pair.two, b))


def _numbers(place: CarrierPlace) -> tuple[int, int] | None:
    first, last = place.first_line, place.last_line or place.first_line
    return None if first is None or last is None else (first, last)


def _one_leaf(a: CarrierPlace, b: CarrierPlace) -> bool:
    said = None not in {a.carrier_leaf, a.leaf_side}
    return said and (a.carrier, a.carrier_leaf, a.leaf_side) == (b.carrier, b.carrier_leaf, b.leaf_side)


def _across(piece: Fragment, place: CarrierPlace) -> tuple[float, float] | None:
    way, polygon = way_on_leaf(Cut(piece, place)), shape_of(piece).polygon
    if way is None or polygon is None:
        return None
    left, _bottom, right, _top = way.shape(polygon).bounds
    return float(left), float(right)


def _say_where() -> str:
    return _("Say for both where in the leaf they lay: which leaf, its side, first and last line.")


def _told(lines: tuple[int, int]) -> str:
    first, last = lines
    return f"{first}" if first == last else f"{first}–{last}"
