"""Dates of networks of 1,000 and 20,000 statements against scipy's shortest paths on the same graph.

And the change of one date against starting anew, and a contradiction found among as many statements.
"""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import bellman_ford, johnson

from guardbook.evidence.conflicts import conflicts_in
from guardbook.evidence.network import Bound, Network, not_after, not_before
from guardbook.evidence.times import times_again, times_of
from tests.benchmarks.measuring import in_turn, seconds, tell

pytestmark = pytest.mark.benchmark
SIZES = (1_000, 20_000)


def histories(statements: int) -> Network:
    """Make the histories of many volumes: stages and pieces in order, about one event in three dated."""
    draw = random.Random(statements)
    bounds: list[Bound] = []
    number = 0
    while len(bounds) < statements:
        start, events = draw.randint(1200, 1900) * 365, draw.randint(4, 40)
        names = [f"event {number + at}" for at in range(events)]
        for at, name in enumerate(names):
            if at:
                bounds.append(
                    Bound(names[draw.randrange(at)], name, draw.randint(0, 3), f"order {number + at}")
                )
            if not at or draw.random() < 1 / 3:
                key, day = f"date {number + at}", start + at * 700
                bounds += [not_before(name, day - 300, key), not_after(name, day + 30_000, key)]
        number += events
    return Network.of(bounds)


def weights(network: Network) -> csr_array:
    """Give the network to scipy: each weight a hair more than it is, for a sparse graph drops a 0."""
    arcs = network.arcs
    values = np.array([2.0**-20 - arc.at_least for arc in arcs])
    ends = (np.array([arc.start for arc in arcs]), np.array([arc.end for arc in arcs]))
    return csr_array((values, ends), shape=(len(network.events),) * 2)


def anew(network: Network) -> Network:
    """Give the network with nothing worked out yet."""
    return Network(network.bounds)


@pytest.mark.parametrize("statements", SIZES)
def test_all_earliest_and_latest_dates(statements: int) -> None:
    network = histories(statements)
    graph = weights(network)
    back = csr_array(graph.T)

    def theirs() -> None:
        johnson(graph, indices=0)
        johnson(back, indices=0)

    timed = in_turn(
        f"dates of {statements:,} statements, against scipy's Johnson both ways",
        lambda: times_of(anew(network)),
        theirs,
        3,
    )
    assert timed.ratio > 0
    times = times_of(network)
    assert times is not None
    out = bellman_ford(graph, indices=0) if statements <= SIZES[0] else johnson(graph, indices=0)
    assert all(times.earliest(name) == round(-out[at]) for at, name in enumerate(network.events))


@pytest.mark.parametrize("statements", SIZES)
def test_one_date_changed(statements: int) -> None:
    network = histories(statements)
    times = times_of(network)
    assert times is not None
    date = next(bound for bound in network.bounds if bound.statement.startswith("date 1"))
    event = date.after if date.before == "origin" else date.before
    earliest = times.earliest(event)
    assert earliest is not None
    bounds = (
        not_before(event, earliest + 10, date.statement),
        not_after(event, earliest + 40_000, date.statement),
    )
    changed = Network.of((*network.without([date.statement]).bounds, *bounds))
    assert network.arcs_of
    timed = in_turn(
        f"one date changed among {statements:,} statements, against starting anew",
        lambda: times_again(times, network.replaced(date.statement, bounds)),
        lambda: times_of(anew(changed)),
        5,
    )
    assert timed.ratio > 0
    again = times_again(times, network.replaced(date.statement, bounds))
    assert again is not None
    assert again.earliest(event) == earliest + 10


@pytest.mark.parametrize("statements", SIZES)
def test_a_contradiction_found(statements: int) -> None:
    network = histories(statements)
    wrong = (not_before("event 0", 10**9, "slip"), not_after("event 0", 10**9, "slip"))
    took = seconds(lambda: conflicts_in(network.also(wrong)))
    tell(f"the smallest conflict among {statements:,} statements", f"{took * 1000:.0f} ms")
    (found,) = conflicts_in(network.also(wrong))
    assert set(found.statements) == {"date 0", "slip"}
