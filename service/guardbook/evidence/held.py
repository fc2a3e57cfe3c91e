"""The times that hold when contradictions are left out, and the rules that the records are against."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guardbook.evidence.conflicts import can_hold
from guardbook.evidence.said import Said
from guardbook.evidence.statements import Statement
from guardbook.evidence.times import Times, times_of


@dataclass(frozen=True)
class Held:
    """The times that hold, and what holds as a rule but not here, where the records are against it."""

    times: Times
    given_up: tuple[Statement, ...]


def held(said: Said, left_out: Iterable[str]) -> Held | None:
    """Work out the times without some statements; None where what is left cannot hold.

    What holds as a rule only is set against what the records say last, one rule after the other, and is the
    first to be given up.
    """
    network = said.network.without(left_out)
    times = times_of(network)
    if times is None:
        return None
    together = times_of(network.also(said.as_a_rule))
    if together is not None:
        return Held(together, ())
    given_up = []
    for bound in said.as_a_rule:
        if can_hold(wider := network.also([bound])):
            network = wider
        else:
            given_up.append(said.statements[bound.statement])
    return Held(times_of(network) or times, tuple(given_up))
