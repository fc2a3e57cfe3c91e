"""Whether all bounds of a network can hold together, found by lifting events until each bound is kept."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from guardbook.evidence.network import Arc, Network


def heights_of(network: Network) -> list[int] | None:
    """Give one time for each event by number, with which every bound holds; None if there is none.

    Bellman and Ford's method with a queue: an event that breaks a bound is put just late enough. Only a ring
    of bounds that asks for more time than none goes on for ever, and that ring is looked for as one goes.
    """
    heights = [0] * len(network.events)
    return None if _lifted(network, heights, range(len(heights))) else heights


def heights_again(network: Network, heights: Iterable[int], added: Iterable[Arc]) -> list[int] | None:
    """Give such times anew from those of before, when only these arcs have come; None if there are none."""
    lifted = list(heights)
    return None if _lifted(network, lifted, {arc.start for arc in added}) else lifted


def length_of_a_ring(network: Network) -> int:
    """Give of how many bounds some ring is that asks for more time than none; 0 if there is no such ring."""
    heights = [0] * len(network.events)
    return _lifted(network, heights, range(len(heights)))


def _lifted(network: Network, heights: list[int], start: Iterable[int]) -> int:
    """Lift events until each bound is kept, and give 0; or give the length of the ring that prevents it."""
    waiting = deque(start)
    queued = set(waiting)
    by: dict[int, int] = {}
    lifts, size = 0, len(heights)
    leaving = network.leaving
    while waiting:
        event = waiting.popleft()
        queued.discard(event)
        height = heights[event]
        for arc in leaving[event]:
            if heights[arc.end] >= height + arc.at_least:
                continue
            heights[arc.end], by[arc.end] = height + arc.at_least, event
            lifts += 1
            if lifts % size == 0 and (length := _ring_length(by)):
                return length
            if arc.end not in queued:
                queued.add(arc.end)
                waiting.append(arc.end)
    return 0


def _ring_length(by: dict[int, int]) -> int:
    """Give the number of events that lifted each other in a ring; 0 if none did."""
    seen: dict[int, int] = {}
    for start in by:
        at = start
        while at in by and at not in seen:
            seen[at] = start
            at = by[at]
        if seen.get(at) == start and at in by:
            return _length_from(at, by)
    return 0


def _length_from(start: int, by: dict[int, int]) -> int:
    length, at = 1, by[start]
    while at != start:
        length, at = length + 1, by[at]
    return length
