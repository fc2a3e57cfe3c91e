"""The order in which things happened to one piece, in all its volumes and outside them.

What happened in one volume keeps its own order. What surely came before by date, or is undone by another
event, comes first. Where neither tells, an order is taken in which the piece is in two places at once as
seldom as can be; then the one with the earlier latest date comes first, then what ends in a separation.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from guardbook.binding.ordering import RANK, Step, undone_by
from guardbook.binding.times import Span, reach, span
from guardbook.records.alteration import Alteration
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

# a "return" that puts the piece beside a volume or elsewhere, not into it
KEPT_OUT = frozenset({"kept-with-volume", "kept-apart"})
# with more ways than this to have got half-way, only the next step is weighed, not all that follow
MOST_WAYS = 10_000

Chain = Sequence[Step]
At = tuple[int, ...]


def puts_in(placing: Placing) -> bool:
    """Say whether a placing puts the piece into its volume, not beside it or elsewhere."""
    return placing.return_kind not in KEPT_OUT


def order_of_life(chains: Iterable[Chain]) -> tuple[Step, ...]:
    """Merge what happened to one piece in each of its volumes, and outside them, into one order."""
    chains = [chain for chain in chains if chain]
    if len(chains) == 1:
        return tuple(chains[0])
    merging = _Merging(chains)
    at, inside = merging.start, None
    ordered: list[Step] = []
    while ready := merging.ready(at):
        chosen = min(ready, key=lambda chain: merging.preference(chain, at, inside))
        ordered.append(merging.chains[chosen][at[chosen]])
        at, inside = merging.after(chosen, at, inside)
    return tuple(ordered)


class _Merging:
    """Weighs which of several chains goes on; `at` is how far each has come, `inside` where the piece is."""

    def __init__(self, chains: Sequence[Chain]) -> None:
        self.chains = chains
        self.start: At = (0,) * len(chains)
        self._spans = {step.event.id: near for chain in chains for step, near in _narrowed(chain, span)}
        self._waits_for = _waits_for(chains)
        self._weighs_all = math.prod(len(chain) + 1 for chain in chains) <= MOST_WAYS
        self._least: dict[tuple[At, str | None], int] = {}

    def ready(self, at: At) -> list[int]:
        """Give the chains that may go on; where each waits for another, the dates are left aside."""
        left = {step.event.id for chain, done in zip(self.chains, at, strict=True) for step in chain[done:]}
        heads = [number for number, chain in enumerate(self.chains) if at[number] < len(chain)]
        free = [number for number in heads if not self._waits_for[self._head(number, at).event.id] & left]
        return free or heads

    def preference(self, number: int, at: At, inside: str | None) -> tuple[object, ...]:
        """Weigh a chain: the clashes it leads to, then dates, then whether it comes to an end."""
        chain, step = self.chains[number], self._head(number, at)
        near = self._spans[step.event.id]
        stays_open = not any(isinstance(later.event, Separation) for later in chain[at[number] :])
        clashes = self._clashes_from(number, at, inside)
        return clashes, near.latest, near.earliest, stays_open, RANK[step.event.kind], step.event.id

    def after(self, number: int, at: At, inside: str | None) -> tuple[At, str | None]:
        """Give how far the chains have come, and where the piece is, when one of them has gone on."""
        step = self._head(number, at)
        match step.event:
            case Placing():
                inside = step.host if puts_in(step.event) else None
            case Separation() | Move():
                inside = None
        return (*at[:number], at[number] + 1, *at[number + 1 :]), inside

    def _head(self, number: int, at: At) -> Step:
        return self.chains[number][at[number]]

    def _clashes_from(self, number: int, at: At, inside: str | None) -> int:
        now = int(self._clashes(number, at, inside))
        return now + (self._least_clashes(*self.after(number, at, inside)) if self._weighs_all else 0)

    def _least_clashes(self, at: At, inside: str | None) -> int:
        if (at, inside) not in self._least:
            onward = [self._clashes_from(number, at, inside) for number in self.ready(at)]
            self._least[at, inside] = min(onward, default=0)
        return self._least[at, inside]

    def _clashes(self, number: int, at: At, inside: str | None) -> bool:
        """Say whether a step would find the piece somewhere it cannot start from."""
        step, before = self._head(number, at), self.chains[number][: at[number]]
        match step.event:
            case Placing() | Move():
                return inside is not None
            case Separation():
                never_there = not any(isinstance(earlier.event, Placing) for earlier in before)
                return inside != step.host and not (inside is None and never_there)
            case Alteration():
                return step.host is not None and inside != step.host
            case _:
                return False


def _waits_for(chains: Sequence[Chain]) -> dict[str, set[str]]:
    """Give, for each event, those of other chains that surely came before it."""
    reaches = {step.event.id: near for chain in chains for step, near in _narrowed(chain, reach)}
    return {
        step.event.id: {
            other.event.id
            for elsewhere in chains
            if elsewhere is not chain
            for other in elsewhere
            if other.event.id == undone_by(step.event)
            or reaches[other.event.id].surely_before(reaches[step.event.id])
        }
        for chain in chains
        for step in chain
    }


def _narrowed(chain: Chain, of: Callable[[str | None], Span]) -> Iterator[tuple[Step, Span]]:
    """Narrow each date of a chain by those before and after it, where that leaves anything."""
    spans = [of(step.when) for step in chain]
    for at in range(1, len(spans)):
        spans[at] = spans[at].within(Span(earliest=spans[at - 1].earliest))
    for at in range(len(spans) - 2, -1, -1):
        spans[at] = spans[at].within(Span(latest=spans[at + 1].latest))
    return zip(chain, spans, strict=True)
