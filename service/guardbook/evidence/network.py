"""A network of times: statements that one thing came at least so long after another.

It is the Simple Temporal Problem of Dechter, Meiri and Pearl (*Artificial Intelligence* 49, 1991; from
memory). A date is such a statement too, about the `ORIGIN` from which days are counted. All times are whole
numbers; which unit they count is the caller's.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

ORIGIN = "origin"


@dataclass(frozen=True, slots=True)
class Bound:
    """`after` came at least `at_least` after `before`, by a statement; below 0: at most so long before.

    >>> not_after("binding", 1543, "note")
    Bound(before='binding', after='origin', at_least=-1543, statement='note')
    """

    before: str
    after: str
    at_least: int
    statement: str


def not_before(event: str, time: int, statement: str) -> Bound:
    """Say that an event was not before a time."""
    return Bound(ORIGIN, event, time, statement)


def not_after(event: str, time: int, statement: str) -> Bound:
    """Say that an event was not after a time."""
    return Bound(event, ORIGIN, -time, statement)


@dataclass(frozen=True, slots=True)
class Arc:
    """A bound between the numbers of two events."""

    start: int
    end: int
    at_least: int
    bound: Bound


@dataclass(frozen=True)
class Network:
    """Bounds between events; the events are those the bounds name, and the origin."""

    bounds: tuple[Bound, ...]

    @classmethod
    def of(cls, bounds: Iterable[Bound]) -> Network:
        """Make a network; what is said twice is kept once."""
        return cls(tuple(dict.fromkeys(bounds)))

    @cached_property
    def events(self) -> tuple[str, ...]:
        """Give the events by number; the origin is number 0."""
        named = (name for bound in self.bounds for name in (bound.before, bound.after))
        return tuple(dict.fromkeys((ORIGIN, *named)))

    @cached_property
    def numbers(self) -> dict[str, int]:
        """Give the number of each event."""
        return {event: number for number, event in enumerate(self.events)}

    @cached_property
    def arcs(self) -> tuple[Arc, ...]:
        """Give the bounds with the numbers of their events."""
        numbers = self.numbers
        return tuple(Arc(numbers[one.before], numbers[one.after], one.at_least, one) for one in self.bounds)

    @cached_property
    def leaving(self) -> tuple[tuple[Arc, ...], ...]:
        """Give, for each event by number, the arcs that start there."""
        found: list[list[Arc]] = [[] for _ in self.events]
        for arc in self.arcs:
            found[arc.start].append(arc)
        return tuple(tuple(arcs) for arcs in found)

    @cached_property
    def arriving(self) -> tuple[tuple[Arc, ...], ...]:
        """Give, for each event by number, the arcs that end there."""
        found: list[list[Arc]] = [[] for _ in self.events]
        for arc in self.arcs:
            found[arc.end].append(arc)
        return tuple(tuple(arcs) for arcs in found)

    @cached_property
    def statements(self) -> tuple[str, ...]:
        """Give the statements, in the order in which they were made."""
        return tuple(dict.fromkeys(bound.statement for bound in self.bounds))

    def without(self, statements: Iterable[str]) -> Network:
        """Give the network as it is when some statements are taken back."""
        gone = frozenset(statements)
        return Network(tuple(bound for bound in self.bounds if bound.statement not in gone))

    def only(self, statements: Iterable[str]) -> Network:
        """Give the part of the network that some statements make."""
        kept = frozenset(statements)
        return Network(tuple(bound for bound in self.bounds if bound.statement in kept))

    def also(self, bounds: Iterable[Bound]) -> Network:
        """Give the network with more bounds."""
        return Network.of((*self.bounds, *bounds))

    @cached_property
    def arcs_of(self) -> dict[str, tuple[Arc, ...]]:
        """Give the arcs of each statement."""
        found: dict[str, list[Arc]] = {}
        for arc in self.arcs:
            found.setdefault(arc.bound.statement, []).append(arc)
        return {statement: tuple(arcs) for statement, arcs in found.items()}

    def replaced(self, statement: str, bounds: Iterable[Bound]) -> Replaced:
        """Put other bounds, between events that are already here, in the place of those of a statement.

        Only the neighbourhood of the events concerned is made anew. Raises KeyError for an event not here.
        """
        removed = self.arcs_of.get(statement, ())
        numbers = self.numbers
        added = tuple(Arc(numbers[one.before], numbers[one.after], one.at_least, one) for one in bounds)
        kept = tuple(bound for bound in self.bounds if bound.statement != statement)
        network = Network((*kept, *(arc.bound for arc in added)))
        # what a cached property would work out again from all bounds is carried over where it is the same
        network.__dict__.update(
            events=self.events,
            numbers=numbers,
            leaving=_patched(self.leaving, removed, added, "start"),
            arriving=_patched(self.arriving, removed, added, "end"),
        )
        return Replaced(network, removed, added)


@dataclass(frozen=True)
class Replaced:
    """A network after a change of one statement, and the arcs that went and came."""

    network: Network
    removed: tuple[Arc, ...]
    added: tuple[Arc, ...]


def _patched(
    arcs: tuple[tuple[Arc, ...], ...], removed: tuple[Arc, ...], added: tuple[Arc, ...], end: str
) -> tuple[tuple[Arc, ...], ...]:
    changed = list(arcs)
    for number in {getattr(arc, end) for arc in removed}:
        changed[number] = tuple(arc for arc in changed[number] if arc not in removed)
    for arc in added:
        number = getattr(arc, end)
        changed[number] = (*changed[number], arc)
    return tuple(changed)
