"""Where a piece sat, at each stage of each of its volumes, who lay beside it there, and where it is now."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any

from guardbook.binding import stay_words
from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import HostState, lives_at_host, states_of
from guardbook.binding.layout import layout_clashes, outline_clashes
from guardbook.binding.neighbours import Neighbour, neighbours
from guardbook.binding.now import Now, keeper_clash, now_of
from guardbook.binding.replay import Life, life_of
from guardbook.binding.stage_order import stage_clashes
from guardbook.binding.stay_json import event_json, lying_json, stage_json, stay_json
from guardbook.binding.stays import Lying, Stay
from guardbook.records.event import Event
from guardbook.records.host import Stage
from guardbook.wording import _


@dataclass(frozen=True)
class Lay:
    """How a piece lay over one or several stages in a row, and what lay near it then."""

    stages: tuple[Stage, ...]
    lying: Lying
    neighbours: tuple[Neighbour, ...]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "stages": [stage_json(stage) for stage in self.stages],
            **lying_json(self.lying),
            "neighbours": [near.as_json() for near in self.neighbours],
        }


@dataclass(frozen=True)
class StayTold:
    """A stay in one volume with its ways of lying, in order."""

    stay: Stay
    lays: tuple[Lay, ...]

    def heading(self, dossier: Dossier) -> str:
        """Head it with its volume and what the piece did there."""
        return stay_words.stay_heading(self.stay, dossier)

    def words(self, dossier: Dossier) -> list[str]:
        """Tell it in sentences: how it lay, what put it there, what took it off."""
        stay = self.stay
        told = [stay_words.lying_words(lay.stages, stay, lay.lying, lay.neighbours) for lay in self.lays]
        sentences = [*told, stay_words.coming_words(stay), stay_words.leaving_words(stay, dossier)]
        return [sentence for sentence in sentences if sentence]

    def as_json(self, dossier: Dossier) -> dict[str, Any]:
        """Give it as plain data."""
        return {**stay_json(self.stay, dossier), "lays": [lay.as_json() for lay in self.lays]}


@dataclass(frozen=True)
class Whereabouts:
    """The answer to "where did it sit, and where is it now?" for one piece.

    Planned events are listed apart; contradictions are told and change nothing; `withheld` counts the events
    that are not shown to this viewer.
    """

    piece: str
    stays: tuple[StayTold, ...]
    now: Now
    planned: tuple[Event, ...]
    contradictions: tuple[Contradiction, ...]
    withheld: int
    dossier: Dossier = field(repr=False, compare=False)

    def words(self) -> str:
        """Tell it in plain sentences, one a line."""
        lines = [self.dossier.name(self.piece)]
        for told in self.stays:
            lines += [f"{told.heading(self.dossier)}:", *told.words(self.dossier)]
        lines.append(self.now_words())
        lines += self.planned_words()
        lines += [_("Contradiction: {words}").format(words=clash.words()) for clash in self.contradictions]
        if self.withheld:
            lines.append(stay_words.withheld_words(self.withheld))
        return "\n".join(line for line in lines if line)

    def now_words(self) -> str:
        """Tell in one sentence where it is now."""
        return stay_words.now_words(self.now, self.dossier)

    def planned_words(self) -> list[str]:
        """Tell what is planned, a sentence an event."""
        return [stay_words.planned_words(event, self.dossier) for event in self.planned]

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; lengths in mm as written, computed bounds in mm to the hundredth."""
        return {
            "piece": self.piece,
            "name": self.dossier.name(self.piece),
            "stays": [told.as_json(self.dossier) for told in self.stays],
            "now": self.now.as_json(self.dossier),
            "planned": [event_json(event) for event in self.planned],
            "contradictions": [clash.as_json() for clash in self.contradictions],
            "withheldEvents": self.withheld,
            "words": self.words(),
        }


def whereabouts(dossier: Dossier, piece: str) -> Whereabouts:
    """Work out where a piece sat and where it is, from the records of a dossier.

    Neighbours are known as far as the dossier holds the other events of the same volumes.
    """
    life = life_of(dossier, piece)
    hosts = list(dict.fromkeys(stay.host for stay in life.stays))
    states = {host: states_of(dossier, host, _with_neighbours(dossier, host, life)) for host in hosts}
    now = now_of(life, dossier)
    return Whereabouts(
        piece=piece,
        stays=tuple(_told(stay, states[stay.host], dossier) for stay in life.stays),
        now=now,
        planned=life.planned,
        contradictions=tuple(_contradictions(dossier, life, now, states)),
        withheld=dossier.withheld,
        dossier=dossier,
    )


def _with_neighbours(dossier: Dossier, host: str, life: Life) -> Iterator[Life]:
    return (life if other.piece == life.piece else other for other in lives_at_host(dossier, host))


def _contradictions(
    dossier: Dossier, life: Life, now: Now, states: dict[str, tuple[HostState, ...]]
) -> Iterator[Contradiction]:
    yield from life.contradictions
    yield from keeper_clash(life, now, dossier)
    yield from outline_clashes(dossier, [life.piece])
    for host, at_host in states.items():
        yield from stage_clashes(dossier, host, life.piece)
        clashes = layout_clashes(at_host, dossier, life.piece)
        yield from (clash for clash in clashes if life.piece in clash.about)


def _told(stay: Stay, states: Iterable[HostState], dossier: Dossier) -> StayTold:
    """Gather the stages of a stay that have come about; those in a row where nothing changed as one."""
    reached = [state for state in states if not state.is_planned]
    held = [(state, lying) for state in reached if (lying := stay.lying_at(state.number))]
    laid = [(state.stage, lying, neighbours(state, stay.piece, dossier)) for state, lying in held]
    lays = [
        Lay(tuple(stage for stage, *_ in group if stage), lying, near)
        for (lying, near), group in groupby(laid, key=lambda one: (one[1], one[2]))
    ]
    if not lays:
        lays = [Lay((), stay.lyings[-1], ())]
    return StayTold(stay, tuple(lays))
