"""The smallest set of statements of a network that cannot all hold, and which of them would mend it.

Bounds cannot all hold if and only if some of them form a ring that asks for more time than none (Dechter,
Meiri and Pearl, *Artificial Intelligence* 49, 1991; from memory).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from guardbook.evidence.heights import heights_of, length_of_a_ring
from guardbook.evidence.network import Arc, Network
from guardbook.evidence.rings import knots

_NEVER = -(10**30)


@dataclass(frozen=True)
class Conflict:
    """Statements that cannot all hold, in the order of the ring they form; each taken away mends this ring.

    `mends` are those that, taken back alone, leave all other statements able to hold, apart from conflicts
    that share nothing with this one but `laws`, which nothing can take back.
    """

    statements: tuple[str, ...]
    mends: tuple[str, ...]
    laws: tuple[str, ...] = ()


def can_hold(network: Network) -> bool:
    """Say whether all bounds of a network can hold together."""
    return heights_of(network) is not None


def conflicts_in(network: Network, laws: Collection[str] = ()) -> tuple[Conflict, ...]:
    """Give conflicts that share no statement, the smallest first, until what is left can hold.

    `laws` are statements that are never taken back, unless there is nothing else in a conflict.
    """
    found: list[Conflict] = []
    left = network
    while (ring := smallest_conflict(left)) is not None:
        kept = tuple(name for name in ring if name in laws)
        statements = tuple(name for name in ring if name not in laws)
        found.append(Conflict(statements, (), kept) if statements else Conflict(ring, ()))
        left = left.without(found[-1].statements)
    return tuple(replace(one, mends=_mends(network, one, found)) for one in found)


def _mends(network: Network, conflict: Conflict, all_found: Sequence[Conflict]) -> tuple[str, ...]:
    others = [name for other in all_found if other is not conflict for name in other.statements]
    rest = network.without(others)
    return tuple(name for name in conflict.statements if can_hold(rest.without([name])))


def smallest_conflict(network: Network) -> tuple[str, ...] | None:
    """Give a smallest set of statements that cannot all hold, in the order of their ring, or None.

    It is a ring of the fewest bounds. Where one statement makes several bounds of the network, what
    is given has nothing in it that could be left out, though another set might be smaller still.
    """
    if can_hold(network):
        return None
    ring = min((found for knot in knots(network) for found in _rings(knot)), key=len)
    return _needed(network, tuple(dict.fromkeys(arc.bound.statement for arc in ring)))


def _needed(network: Network, statements: tuple[str, ...]) -> tuple[str, ...]:
    """Leave out what is not needed for the conflict."""
    kept = list(statements)
    for name in statements:
        rest = [other for other in kept if other != name]
        if rest and not can_hold(network.only(rest)):
            kept = rest
    return tuple(kept)


def _rings(knot: Network) -> Iterator[tuple[Arc, ...]]:
    """Give rings that ask for time, each shorter than the one before; the last is one of the shortest.

    Through the origin first, which every date is about: without it, few events are near to each other.
    """
    most = length_of_a_ring(knot)
    for start in range(len(knot.events)):
        ring = _ring_through(knot, start, most)
        if ring:
            most = len(ring) - 1
            yield ring


def _ring_through(knot: Network, start: int, most: int) -> tuple[Arc, ...] | None:
    """Find the ring of the fewest bounds, `most` at most, from an event back to it, past none before it.

    Round by round: the most time that so many bounds can ask for on the way to each event.
    """
    asked = {start: 0}
    rounds: list[dict[int, Arc]] = []
    for _ in range(most):
        further: dict[int, int] = {}
        by: dict[int, Arc] = {}
        for event, time in asked.items():
            for arc in knot.leaving[event]:
                if arc.end < start or time + arc.at_least <= further.get(arc.end, _NEVER):
                    continue
                further[arc.end], by[arc.end] = time + arc.at_least, arc
        rounds.append(by)
        if further.get(start, 0) > 0:
            return _walked_back(rounds, start)
        asked = further
    return None


def _walked_back(rounds: Sequence[dict[int, Arc]], start: int) -> tuple[Arc, ...]:
    ring, at = [], start
    for by in reversed(rounds):
        ring.append(by[at])
        at = by[at].start
    return tuple(reversed(ring))
