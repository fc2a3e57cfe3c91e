"""The state of a volume at each of its stages: which pieces were in it, and how each of them lay."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from guardbook.binding.dossier import Dossier
from guardbook.binding.ordering import is_planned, stages_of
from guardbook.binding.replay import Life, life_of
from guardbook.binding.stays import Lying, Stay
from guardbook.records.event import Event
from guardbook.records.host import Stage


@dataclass(frozen=True)
class InPlace:
    """A piece in a volume at one stage."""

    stay: Stay
    lying: Lying


@dataclass(frozen=True)
class HostState:
    """A volume at one stage; `stage` is None for a volume whose record has no stages.

    `is_planned` says that only planned events lead to the stage, so that it has not come about.
    """

    host: str
    number: int
    stage: Stage | None
    pieces: tuple[InPlace, ...]
    is_planned: bool = False

    def of_piece(self, iri: str) -> tuple[InPlace, ...]:
        """Give a piece as it lay at this stage: once, or not at all (more often only in a contradiction)."""
        return tuple(found for found in self.pieces if found.stay.piece == iri)


def lives_at_host(dossier: Dossier, host: str) -> tuple[Life, ...]:
    """Replay every piece that anything at a volume names, as far as the dossier knows of its life."""
    pieces = {iri for event in dossier.events_at_host(host) if (iri := _piece(event))}
    return tuple(life_of(dossier, iri) for iri in sorted(pieces))


def _piece(event: Event) -> str | None:
    return getattr(event, "piece", None)


def states_of(
    dossier: Dossier, host: str, lives: Iterable[Life], only: int | None = None
) -> tuple[HostState, ...]:
    """Give the state of a volume at each of its stages, first to last; one without stages has one state.

    `only` asks for one stage by its number: nothing where there is no such stage.
    """
    stays = [stay for life in lives for stay in life.stays if stay.host == host]
    stages = stages_of(dossier.host(host))
    wanted: list[tuple[int, Stage | None]] = [(stage.number, stage) for stage in stages] or [(1, None)]
    planned = _first_planned(dossier, host)
    return tuple(
        HostState(host, number, stage, _pieces_at(stays, number), stage is not None and number >= planned)
        for number, stage in wanted
        if only in {None, number}
    )


def _first_planned(dossier: Dossier, host: str) -> float:
    """Give the first stage after all that has been done that a planned event leads to; infinity if none."""
    numbers = {f"{host}{stage.id}": stage.number for stage in stages_of(dossier.host(host))}
    done: set[int] = set()
    planned: set[int] = set()
    for event in dossier.events_at_host(host):
        if number := numbers.get(getattr(event, "stage", None) or ""):
            (planned if is_planned(event) else done).add(number)
    return min((number for number in planned if number > max(done, default=0)), default=math.inf)


def _pieces_at(stays: Iterable[Stay], number: int) -> tuple[InPlace, ...]:
    return tuple(InPlace(stay, lying) for stay in stays if (lying := stay.lying_at(number)))
