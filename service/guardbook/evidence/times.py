"""The earliest and the latest time of every event of a network, and the bounds that set each of them."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guardbook.evidence.heights import heights_again, heights_of
from guardbook.evidence.network import ORIGIN, Arc, Bound, Network, Replaced

# how much could be given way on a path, and of how many bounds it is
Cost = tuple[int, int]


@dataclass(frozen=True)
class Paths:
    """The tightest paths between the origin and each event by number, and the last arc of each.

    With `forward` they lead from the origin, otherwise to it.
    """

    forward: bool
    costs: tuple[Cost | None, ...]
    by: tuple[Arc | None, ...]

    def arcs(self, event: int) -> Iterator[Arc]:
        """Give the arcs of the path, beginning at the event."""
        while (arc := self.by[event]) is not None:
            yield arc
            event = arc.start if self.forward else arc.end


@dataclass(frozen=True)
class Times:
    """What a network says of the times of its events; it is one in which all bounds can hold."""

    network: Network
    heights: Sequence[int]
    from_origin: Paths
    to_origin: Paths

    def earliest(self, event: str) -> int | None:
        """Give the earliest time of an event, None if nothing bounds it or it is not in the network."""
        number = self.network.numbers.get(event)
        cost = None if number is None else self.from_origin.costs[number]
        return None if number is None or cost is None else self.heights[number] - self.heights[0] - cost[0]

    def latest(self, event: str) -> int | None:
        """Give the latest time of an event, None if nothing bounds it or it is not in the network."""
        number = self.network.numbers.get(event)
        cost = None if number is None else self.to_origin.costs[number]
        return None if number is None or cost is None else self.heights[number] - self.heights[0] + cost[0]

    def why_earliest(self, event: str) -> tuple[Bound, ...]:
        """Give the bounds that set the earliest time, from the one that gives a date to the event."""
        number = self.network.numbers.get(event)
        arcs = () if number is None else tuple(self.from_origin.arcs(number))
        return tuple(arc.bound for arc in reversed(arcs))

    def why_latest(self, event: str) -> tuple[Bound, ...]:
        """Give the bounds that set the latest time, from the one that gives a date to the event."""
        number = self.network.numbers.get(event)
        arcs = () if number is None else tuple(self.to_origin.arcs(number))
        return tuple(arc.bound for arc in reversed(arcs))


def times_of(network: Network) -> Times | None:
    """Work out all earliest and latest times; None where not all bounds can hold together.

    Johnson's method: with times at which every bound holds, what each could give way is never below nothing,
    and Dijkstra's method finds the paths on which nothing more can be given. Of two equally tight paths the
    one of fewer bounds is taken, since it is easier to check.
    """
    heights = heights_of(network)
    if heights is None:
        return None
    paths = (_paths(network, heights, forward=forward) for forward in (True, False))
    return Times(network, heights, *paths)


def times_again(times: Times, change: Replaced) -> Times | None:
    """Work out the times anew after a change of one statement, touching only what hangs on it."""
    network = change.network
    if times.network.numbers[ORIGIN] != 0 or times.network.events != network.events:
        return times_of(network)
    heights = heights_again(network, times.heights, change.added)
    if heights is None:
        return None
    paths = (_paths_again(old, times, change, heights) for old in (times.from_origin, times.to_origin))
    return Times(network, heights, *paths)


def _paths(network: Network, heights: Sequence[int], *, forward: bool) -> Paths:
    size = len(network.events)
    costs: list[Cost | None] = [None] * size
    by: list[Arc | None] = [None] * size
    costs[0] = (0, 0)
    _spread(network, heights, (costs, by), [0], forward=forward)
    return Paths(forward, tuple(costs), tuple(by))


def _spread(
    network: Network,
    heights: Sequence[int],
    found: tuple[list[Cost | None], list[Arc | None]],
    start: Iterable[int],
    *,
    forward: bool,
) -> None:
    """Carry costs on from some events to all that can be had more cheaply by them."""
    costs, by = found
    waiting = [(cost, number) for number in start if (cost := costs[number]) is not None]
    heapq.heapify(waiting)
    arcs_at = network.leaving if forward else network.arriving
    while waiting:
        cost, number = heapq.heappop(waiting)
        if costs[number] != cost:
            continue
        slack, length = cost
        for arc in arcs_at[number]:
            further = arc.end if forward else arc.start
            new = (slack + heights[arc.end] - heights[arc.start] - arc.at_least, length + 1)
            old = costs[further]
            if old is None or new < old:
                costs[further], by[further] = new, arc
                heapq.heappush(waiting, (new, further))


def _paths_again(old: Paths, times: Times, change: Replaced, heights: Sequence[int]) -> Paths:
    """Let go of the paths that used what is gone, and find anew what they led to."""
    network, forward = change.network, old.forward
    lost = _hanging_on(old, change.removed)
    costs, by = list(old.costs), list(old.by)
    moved = [new - before for new, before in zip(heights, times.heights, strict=True)]
    if any(moved):
        costs = [_moved(cost, moved, at, forward=forward) for at, cost in enumerate(costs)]
    for number in lost:
        costs[number], by[number] = None, None
    arcs_at = network.arriving if forward else network.leaving
    edge = {arc.start if forward else arc.end for number in lost for arc in arcs_at[number]}
    edge |= {arc.start if forward else arc.end for arc in change.added}
    _spread(network, heights, (costs, by), edge - lost, forward=forward)
    return Paths(forward, tuple(costs), tuple(by))


def _moved(cost: Cost | None, moved: Sequence[int], at: int, *, forward: bool) -> Cost | None:
    """Count a cost anew with other heights: it is the height between the ends less what the path asks."""
    if cost is None:
        return None
    change = moved[at] - moved[0]
    return cost[0] + (change if forward else -change), cost[1]


def _hanging_on(paths: Paths, removed: Iterable[Arc]) -> set[int]:
    """Give the events whose paths use any of these arcs."""
    gone = {id(arc) for arc in removed}
    cut = {number for number, arc in enumerate(paths.by) if arc is not None and id(arc) in gone}
    if not cut:
        return set()
    onward: dict[int, list[int]] = {}
    for number, arc in enumerate(paths.by):
        if arc is not None:
            onward.setdefault(arc.start if paths.forward else arc.end, []).append(number)
    waiting, lost = list(cut), set(cut)
    while waiting:
        for number in onward.get(waiting.pop(), ()):
            if number not in lost:
                lost.add(number)
                waiting.append(number)
    return lost
