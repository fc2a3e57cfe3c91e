"""Our earliest and latest times, and our conflicts, against others who work them out in other ways.

Sources: R. Dechter, I. Meiri, J. Pearl, "Temporal constraint networks", *Artificial Intelligence* 49 (1991),
the example of how two men get to work (from memory); shortest paths of `scipy.sparse.csgraph` (PyPI `scipy`);
the SMT solver Z3 (PyPI `z3-solver`), its models and its unsatisfiable cores.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations
from typing import Any

import numpy as np
import pytest
import z3
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import NegativeCycleError, bellman_ford

from guardbook.evidence.conflicts import can_hold, conflicts_in, smallest_conflict
from guardbook.evidence.network import ORIGIN, Bound, Network, not_after, not_before
from guardbook.evidence.times import Times, times_again, times_of
from tests.evidence.networks import EVENTS, networks

pytestmark = pytest.mark.slow

MANY = settings(max_examples=1500, deadline=None)
SOME = settings(max_examples=500, deadline=None)

Range = tuple[int | None, int | None]


def between(before: str, after: str, least: int, most: int) -> tuple[Bound, Bound]:
    """Say that `after` came from `least` to `most` after `before`."""
    name = f"{before} to {after}"
    return Bound(before, after, least, name), Bound(after, before, -most, name)


def ranges(times: Times) -> dict[str, Range]:
    """Give the earliest and latest time of every event."""
    return {name: (times.earliest(name), times.latest(name)) for name in times.network.events}


def test_two_men_get_to_work_when_the_published_example_says() -> None:
    pairs = (
        between(ORIGIN, "x1", 10, 20),
        between("x1", "x2", 30, 40),
        between("x3", "x2", 10, 20),
        between("x3", "x4", 40, 50),
        between(ORIGIN, "x4", 60, 70),
    )
    times = times_of(Network.of(bound for pair in pairs for bound in pair))
    assert times is not None
    assert ranges(times) == {ORIGIN: (0, 0), "x1": (10, 20), "x2": (40, 50), "x3": (20, 30), "x4": (60, 70)}


def by_scipy(network: Network) -> dict[str, Range] | None:
    """Work the times out as shortest paths; each weight is a hair more than it is, for scipy drops a 0."""
    size = len(network.events)
    weights = np.zeros((size + 1, size + 1))
    for arc in network.arcs:
        weight = 2.0**-20 - arc.at_least
        weights[arc.start, arc.end] = min(weights[arc.start, arc.end] or np.inf, weight)
    # from one event more all can be reached, and so every ring is seen
    weights[size, :size] = 1000.0
    try:
        bellman_ford(csr_array(weights), indices=size)
        out = bellman_ford(csr_array(weights), indices=0)
        back = bellman_ford(csr_array(weights.T), indices=0)
    except NegativeCycleError:
        return None
    return {name: (whole(-out[at]), whole(back[at])) for at, name in enumerate(network.events)}


def whole(value: float) -> int | None:
    return round(value) if np.isfinite(value) else None


@MANY
@given(networks())
def test_earliest_and_latest_times_are_scipys_shortest_paths(network: Network) -> None:
    times, theirs = times_of(network), by_scipy(network)
    assert (None if times is None else ranges(times)) == theirs


@SOME
@given(networks())
def test_the_bounds_named_for_a_time_are_enough_to_set_it(network: Network) -> None:
    times = times_of(network)
    assume(times is not None)
    assert times is not None
    for event in network.events[1:]:
        for chain, time, sign in (
            (times.why_earliest(event), times.earliest(event), 1),
            (times.why_latest(event), times.latest(event), -1),
        ):
            assert bool(chain) is (time is not None)
            assert sum(bound.at_least for bound in chain) == sign * (time or 0) if chain else time is None


@MANY
@given(networks(), st.data())
def test_a_change_of_one_statement_gives_the_times_that_a_new_start_would_give(
    network: Network, data: st.DataObject
) -> None:
    times = times_of(network)
    assume(times is not None)
    assert times is not None
    statement = data.draw(st.sampled_from(network.statements))
    event = data.draw(st.sampled_from([name for name in network.events if name != ORIGIN]))
    first, last = sorted(data.draw(st.tuples(st.integers(-30, 30), st.integers(-30, 30))))
    bounds = (not_before(event, first, statement), not_after(event, last, statement))
    again = times_again(times, network.replaced(statement, bounds))
    anew = times_of(Network.of((*network.without([statement]).bounds, *bounds)))
    assert (again is None) == (anew is None)
    if again is not None and anew is not None:
        found = ranges(again)
        assert {name: found[name] for name in anew.network.events} == ranges(anew)


def z3_terms(bounds: Iterable[Bound]) -> dict[str, Any]:
    """Say each statement to Z3: all the bounds that it makes."""
    variables: dict[str, Any] = {name: z3.Int(name) for name in EVENTS}
    said: dict[str, list[Any]] = {}
    for one in bounds:
        term = variables[one.after] - variables[one.before] >= one.at_least
        said.setdefault(one.statement, []).append(term)
    return {statement: z3.And(*terms) for statement, terms in said.items()}


def z3_core(network: Network) -> frozenset[str] | None:
    """Give the statements of an unsatisfiable core that Z3 has made minimal; None where all can hold."""
    solver = z3.Solver()
    solver.set(**{"unsat_core": True, "core.minimize": True})
    for statement, term in z3_terms(network.bounds).items():
        solver.assert_and_track(term, statement)
    if solver.check() == z3.sat:
        return None
    return frozenset(str(name) for name in solver.unsat_core())


def z3_holds(network: Network) -> bool:
    solver = z3.Solver()
    solver.add(*z3_terms(network.bounds).values())
    return bool(solver.check() == z3.sat)


@MANY
@given(networks(shared=True))
def test_z3_agrees_that_a_conflict_is_one_and_that_nothing_in_it_can_be_left_out(network: Network) -> None:
    found = smallest_conflict(network)
    assert (found is None) == z3_holds(network)
    if found is not None:
        assert not z3_holds(network.only(found))
        assert all(z3_holds(network.only(set(found) - {name})) for name in found)


@MANY
@given(networks())
def test_no_core_of_z3_is_smaller_than_our_smallest_conflict(network: Network) -> None:
    found, core = smallest_conflict(network), z3_core(network)
    assert (found is None) == (core is None)
    assert len(found or ()) <= len(core or ())


@SOME
@given(networks())
def test_no_smaller_set_of_statements_conflicts_by_trying_them_all(network: Network) -> None:
    found = smallest_conflict(network)
    assume(found is not None and len(found) <= 4)
    assert found is not None
    smaller = combinations(network.statements, len(found) - 1)
    assert all(can_hold(network.only(some)) for some in smaller)


@SOME
@given(networks(shared=True))
def test_z3_agrees_which_single_retraction_mends_a_conflict(network: Network) -> None:
    conflicts = conflicts_in(network)
    for conflict in conflicts:
        others = {name for other in conflicts if other is not conflict for name in other.statements}
        rest = network.without(others)
        holds = tuple(name for name in conflict.statements if z3_holds(rest.without([name])))
        assert conflict.mends == holds
    assert z3_holds(network.without({name for one in conflicts for name in one.statements}))
