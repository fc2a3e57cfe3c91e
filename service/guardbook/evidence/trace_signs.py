"""Signs in traces that go on across a joint or under a label, and in the writing of two pieces."""

from __future__ import annotations

from itertools import product

from guardbook.evidence.signs import Sign, either, not_seen, seen, unknown
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Piece, Written
from guardbook.records import terms
from guardbook.records.fragment import CarrierPlace, Feature
from guardbook.wording import _, decimal, language


def goes_on_across(piece: Piece) -> Sign:
    """See whether writing, a stain or offset of the piece goes on across the joint."""
    found = [trace for trace in piece.piece.features if trace.continues_on]
    if not found:
        return unknown(_("Look along the joints for traces that go on."))
    told = _("{trace} ({id}) goes on across the joint on {others}")
    return seen(_listed(piece, told, found, "continues_on"), _named(piece, found))


def runs_under(piece: Piece) -> Sign:
    """See whether writing or another trace of the piece runs under a label or another piece."""
    found = [trace for trace in piece.piece.features if trace.runs_under]
    if not found:
        return unknown(_("Look along the edges of labels for traces that run under."))
    told = _("{trace} ({id}) runs under {others}")
    return seen(_listed(piece, told, found, "runs_under"), _named(piece, found))


def _listed(piece: Piece, told: str, found: list[Feature], field: str) -> str:
    return "; ".join(
        told.format(
            trace=terms.label("feature", trace.feature_kind, language()),
            id=trace.id.removeprefix("#"),
            others=", ".join(quoted(piece.dossier.name(iri)) for iri in getattr(trace, field)),
        )
        for trace in found
    )


def _named(piece: Piece, found: list[Feature]) -> tuple[str, ...]:
    return tuple(f"{piece.piece.id}{trace.id}" for trace in found)


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


def text_goes_on(pair: Written) -> Sign:
    """See whether the text goes on from piece to piece: in the next line, or in the same one, cut through."""
    both = list(product(pair.one.carrier_places, pair.two.carrier_places))
    lined = [(a, b) for a, b in both if _lines(a) and _lines(b)]
    if not lined:
        return unknown(_("Say for both where in the leaf they lay: its side, first and last line."))
    for a, b in lined:
        if _one_leaf(a, b) and _goes_on(a, b):
            told = _("the text goes on, by their places in one leaf: lines {one} and {two}")
            return seen(told.format(one=_told(a), two=_told(b)))
    return not_seen(_("the text does not go on from one to the other"))


def _lines(place: CarrierPlace) -> tuple[int, int] | None:
    first, last = place.first_line, place.last_line or place.first_line
    return None if first is None or last is None else (first, last)


def _one_leaf(a: CarrierPlace, b: CarrierPlace) -> bool:
    return (a.carrier, a.carrier_leaf, a.leaf_side) == (b.carrier, b.carrier_leaf, b.leaf_side)


def _goes_on(a: CarrierPlace, b: CarrierPlace) -> bool:
    (a_first, a_last), (b_first, b_last) = _lines(a) or (0, 0), _lines(b) or (0, 0)
    return b_first - a_last <= 1 and a_first - b_last <= 1


def _told(place: CarrierPlace) -> str:
    first, last = _lines(place) or (0, 0)
    return f"{first}" if first == last else f"{first}–{last}"
