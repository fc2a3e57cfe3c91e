"""Signs in traces that go on across a joint or under a label, and in the writing of two pieces."""

from __future__ import annotations

from itertools import product

from guardbook.evidence.signs import Sign, either, not_seen, seen, unknown
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Piece, Written
from guardbook.records.fragment import CarrierPlace, Feature


def goes_on_across(piece: Piece) -> Sign:
    """See whether writing, a stain or offset of the piece goes on across the joint."""
    return _traces(
        piece, "continues_on", "goes on across the joint on", "Look along the joints for traces that go on."
    )


def runs_under(piece: Piece) -> Sign:
    """See whether writing or another trace of the piece runs under a label or another piece."""
    return _traces(
        piece, "runs_under", "runs under", "Look along the edges of labels for traces that run under."
    )


def _traces(piece: Piece, field: str, words: str, ask: str) -> Sign:
    found: list[Feature] = [trace for trace in piece.piece.features if getattr(trace, field)]
    if not found:
        return unknown(ask)
    told = "; ".join(
        f"the {trace.feature_kind.replace('-', ' ')} {trace.id} {words} "
        + " and ".join(quoted(piece.dossier.name(iri)) for iri in getattr(trace, field))
        for trace in found
    )
    return seen(told, tuple(f"{piece.piece.id}{trace.id}" for trace in found))


def same_line_pitch(pair: Written, within_mm: float) -> Sign:
    """See whether the lines of two pieces are equally far apart."""
    one, two = pair.one.line_pitch, pair.two.line_pitch
    if one is None or two is None:
        return unknown("Measure the line pitch of both over as many lines as there are.")
    told = f"line pitch {one:.1f} and {two:.1f} mm"
    return either(there=abs(one - two) <= within_mm, yes=told, no=told)


def same_ruling(pair: Written) -> Sign:
    """See whether two pieces are ruled in the same way."""
    return _same(pair, "ruling", "Describe the ruling of both in the same words.")


def same_script(pair: Written) -> Sign:
    """See whether two pieces are written in the same script."""
    return _same(pair, "script", "Name the script of both.")


def _same(pair: Written, field: str, ask: str) -> Sign:
    one, two = getattr(pair.one, field), getattr(pair.two, field)
    if one is None or two is None or "unknown" in {one, two}:
        return unknown(ask)
    if one == two:
        return seen(f"the same {field}: {one}")
    return not_seen(f"{field} not the same: {one}; {two}")


def text_goes_on(pair: Written) -> Sign:
    """See whether the text goes on from piece to piece: in the next line, or in the same one, cut through."""
    both = list(product(pair.one.carrier_places, pair.two.carrier_places))
    lined = [(a, b) for a, b in both if _lines(a) and _lines(b)]
    if not lined:
        return unknown("Say for both where in the leaf they lay: its side, first and last line.")
    for a, b in lined:
        if _one_leaf(a, b) and _goes_on(a, b):
            return seen(f"the text goes on, by their places in one leaf: lines {_told(a)} and {_told(b)}")
    return not_seen("the text does not go on from one to the other")


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
    return f"{first}" if first == last else f"{first} to {last}"
