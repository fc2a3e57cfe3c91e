"""The parts of a network in which rings can lie: every event there leads to every other and back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guardbook.evidence.heights import heights_of
from guardbook.evidence.network import Network


def knots(network: Network) -> Iterator[Network]:
    """Give the strongly connected parts of a network in which not all bounds can hold.

    Tarjan's method (*SIAM Journal on Computing* 1, 1972; from memory), without recursion.
    """
    for members in _components(network):
        if len(members) > 1 or _turns_on_itself(network, members[0]):
            part = _within(network, set(members))
            if heights_of(part) is None:
                yield part


def _turns_on_itself(network: Network, event: int) -> bool:
    return any(arc.end == event for arc in network.leaving[event])


def _within(network: Network, members: set[int]) -> Network:
    arcs = (arc for number in sorted(members) for arc in network.leaving[number] if arc.end in members)
    return Network(tuple(arc.bound for arc in arcs))


def _components(network: Network) -> Iterator[list[int]]:
    order: dict[int, int] = {}
    lowest: dict[int, int] = {}
    stack: list[int] = []
    on_stack: set[int] = set()
    for start in range(len(network.events)):
        if start in order:
            continue
        walk = [(start, _further(network, start))]
        order[start] = lowest[start] = len(order)
        stack.append(start)
        on_stack.add(start)
        while walk:
            event, further = walk[-1]
            follower = next((end for end in further if end not in order or end in on_stack), None)
            if follower is None:
                walk.pop()
                if walk:
                    before = walk[-1][0]
                    lowest[before] = min(lowest[before], lowest[event])
                if lowest[event] == order[event]:
                    yield _taken_off(stack, on_stack, event)
            elif follower in order:
                lowest[event] = min(lowest[event], order[follower])
            else:
                order[follower] = lowest[follower] = len(order)
                stack.append(follower)
                on_stack.add(follower)
                walk.append((follower, _further(network, follower)))


def _further(network: Network, event: int) -> Iterator[int]:
    return iter([arc.end for arc in network.leaving[event]])


def _taken_off(stack: list[int], on_stack: set[int], event: int) -> list[int]:
    members: Iterable[int] = stack[stack.index(event) :]
    found = list(members)
    del stack[-len(found) :]
    on_stack.difference_update(found)
    return found
