"""Signs in wormholes: holes of two pieces in register, how likely that is by accident, holes that stop."""

from __future__ import annotations

from math import comb, dist, pi

from guardbook.evidence.searched import how_to_answer, none_but_recorded
from guardbook.evidence.signs import Sign, either, not_seen, seen, unknown
from guardbook.evidence.situations import quoted
from guardbook.evidence.subjects import Together, overlap, wormholes
from guardbook.records import terms
from guardbook.wording import _, decimal, language


def in_register(pair: Together, within_mm: float, least: int) -> Sign:
    """See whether so many wormholes of two pieces lie on each other, with the chance of it by accident."""
    ours, theirs, matched = _holes(pair, within_mm)
    if not ours or not theirs:
        return unknown(_record())
    count = {
        "count": len(matched),
        "within": decimal(f"{within_mm:g}"),
        "ours": len(ours),
        "theirs": len(theirs),
    }
    told = _("{count} wormholes in register within {within} mm ({ours} and {theirs} holes)").format_map(count)
    if matched:
        told = _("{holes}; by accident: {odds}").format(holes=told, odds=_odds(accident(pair, within_mm)))
    return either(there=len(matched) >= least, yes=told, no=told, traces=tuple(matched))


def not_by_accident(pair: Together, within_mm: float, most: float) -> Sign:
    """See whether the holes in register could hardly be so by accident."""
    ours, theirs, matched = _holes(pair, within_mm)
    if not ours or not theirs:
        return unknown(_record())
    chance = accident(pair, within_mm)
    told = _("the chance of {count} in register by accident: {odds}").format(
        count=len(matched), odds=_odds(chance)
    )
    return either(there=bool(matched) and chance <= most, yes=told, no=told, traces=tuple(matched))


def stopping(pair: Together, within_mm: float, least: int) -> Sign:
    """See whether wormholes of one piece stop at the other, which has others or was looked over for them."""
    ours, _theirs, matched = _holes(pair, within_mm)
    if not ours:
        return unknown(_record())
    other = pair.dossier.piece(pair.two.piece)
    if not wormholes(pair.two) and none_but_recorded(other, "features") is None:
        told = _("Say of {piece} whether it has wormholes; {answer}")
        return unknown(told.format(piece=quoted(pair.two.name), answer=how_to_answer()))
    stopped = len(ours) - len(matched)
    told = _("{stopped} of {count} wormholes stop at the other piece").format(
        stopped=stopped, count=len(ours)
    )
    return either(there=stopped >= least and not matched, yes=told, no=told)


def both_measured(pair: Together) -> Sign:
    """See whether the places of both were measured, and so do not rest on the holes themselves."""
    if _by_traces(pair):
        return not_seen(_by_traces(pair))
    if all(item.certainty == "measured" for item in (pair.one, pair.two)):
        return seen(_("the places of both are measured"))
    return unknown(_("Measure how both lie in their place, not by the holes."))


def placed_by_traces(pair: Together) -> Sign:
    """See whether one was only placed by traces or inferred: then it may be the holes that put it there."""
    return seen(_by_traces(pair)) if _by_traces(pair) else _measured_or_not(pair)


def accident(pair: Together, within_mm: float) -> float:
    """Give the chance that as many holes as are in register, or more, fall together by accident.

    Each hole of the one falls within reach of some hole of the other with the same chance, if holes lie
    anywhere on the area both share; their number is then binomial.
    """
    ours, theirs, matched = _holes(pair, within_mm)
    area = overlap(pair.one, pair.two)
    one = 1 - (1 - min(1.0, pi * within_mm**2 / area)) ** len(theirs)
    few = sum(
        comb(len(ours), count) * one**count * (1 - one) ** (len(ours) - count)
        for count in range(len(matched))
    )
    return max(0.0, 1 - few)


def _measured_or_not(pair: Together) -> Sign:
    sign = both_measured(pair)
    return not_seen(sign.words) if sign.is_seen else sign


def _by_traces(pair: Together) -> str:
    """Tell which of both is placed by traces or by inference, empty where neither is."""
    told = _("the place of {piece} is not measured: {certainty}")
    return "; ".join(
        told.format(piece=quoted(item.name), certainty=terms.label("certainty", item.certainty, language()))
        for item in (pair.one, pair.two)
        if item.certainty in {"from-traces", "inferred"}
    )


def _holes(pair: Together, within_mm: float) -> tuple[list[str], list[str], list[str]]:
    """Give the wormholes of each in the area both share, and those of the one that meet one of the other."""
    shared = (
        pair.one.outline.intersection(pair.two.outline) if pair.one.outline and pair.two.outline else None
    )
    if shared is None or not overlap(pair.one, pair.two):
        return [], [], []
    reach = shared.buffer(within_mm).bounds
    ours, theirs = (
        {t.id: t.points[0] for t in wormholes(item) if _inside(t.points[0], reach)}
        for item in (pair.one, pair.two)
    )
    free, matched = dict(theirs), []
    for name, point in ours.items():
        near = min(free, key=lambda other: dist(point, free[other]), default=None)
        if near is not None and dist(point, free[near]) <= within_mm:
            matched.append(name)
            del free[near]
    return list(ours), list(theirs), matched


def _inside(point: tuple[float, float], bounds: tuple[float, ...]) -> bool:
    left, bottom, right, top = bounds
    return left <= point[0] <= right and bottom <= point[1] <= top


def _odds(chance: float) -> str:
    if chance > 0.5:
        return _("likely")
    if chance <= 1e-9:
        return _("less than 1 in a thousand million")
    return _("1 in {count}").format(count=f"{round(1 / chance):,}")


def _record() -> str:
    return _("Record the wormholes of both pieces, and measure how both lie in their place.")
