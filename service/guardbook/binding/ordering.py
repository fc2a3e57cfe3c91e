"""The order in which things happened to a volume and to the pieces in it.

By the number of the stage an event leads to, then the stated sequence, then the dates, then
taking off before putting on, then the identifier. What undoes something comes after it, and what is done to a
piece in place comes after its placing. An event that names no stage is given the likeliest one.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from guardbook.binding.dossier import host_of, piece_of
from guardbook.binding.times import Span, span
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.host import HostVolume, Stage
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

# where neither stage, sequence nor date tells: first off, then altered, then on, then away
RANK = {"separation": 0, "alteration": 1, "placing": 2, "move": 3}


@dataclass(frozen=True)
class Step:
    """An event in its place: the volume it happened in and the number of the stage it leads to, if any.

    `stage_said` is false where the event names no stage of this volume and the number was worked out. `when`
    is its date, or its stage's where it has none.
    """

    event: Event
    host: str | None = None
    stage: int | None = None
    stage_said: bool = False
    when: str | None = None


def is_planned(event: Event) -> bool:
    """Say whether an event is only planned; what says nothing about it has been done."""
    return event.status == "planned"


def undone_by(event: Event) -> str | None:
    """Give the event that this one undoes, or None."""
    return event.undoes if isinstance(event, Placing | Separation) else None


def stages_of(host: HostVolume | None) -> tuple[Stage, ...]:
    """Give the stages of a volume by number."""
    return tuple(sorted(host.stages, key=lambda stage: (stage.number, stage.id))) if host else ()


def order_at_host(host: HostVolume | None, events: Iterable[Event]) -> tuple[Step, ...]:
    """Put the events of one volume in order; planned ones are left out."""
    stages = stages_of(host)
    steps = [_step(event, host, stages) for event in events if not is_planned(event)]
    ordered: list[Step] = []
    placed: set[str | None] = set()
    for _, group in groupby(sorted(steps, key=_key), key=lambda step: step.stage):
        ordered += _within_stage(list(group), placed)
        placed |= {step.event.piece for step in ordered if isinstance(step.event, Placing)}
    return tuple(ordered)


def _step(event: Event, host: HostVolume | None, stages: Sequence[Stage]) -> Step:
    record, _, part = (getattr(event, "stage", None) or "").rpartition("#")
    own = stages if host and record == host.id else ()
    stage = next((one for one in own if one.id == f"#{part}"), None)
    if stage is None:
        return Step(event, host_of(event), likely_stage(event, stages), stage_said=False, when=event.when)
    return Step(event, host_of(event), stage.number, stage_said=True, when=event.when or stage.when)


def likely_stage(event: Event, stages: Sequence[Stage]) -> int:
    """Give the last dated stage that may have begun by the event's date, else the first for a first placing
    and the last for all else.
    """
    numbers = [stage.number for stage in stages] or [1]
    if event.when is not None:
        latest = span(event.when).latest
        begun = [stage.number for stage in stages if stage.when and span(stage.when).earliest <= latest]
        return max(begun, default=numbers[0])
    return numbers[0] if isinstance(event, Placing) and not event.undoes else numbers[-1]


def _key(step: Step) -> tuple[int, Span, int, str]:
    return step.stage or 0, span(step.when), RANK[step.event.kind], step.event.id


def _within_stage(steps: list[Step], placed_before: set[str | None]) -> list[Step]:
    """Order the events of one stage: those with a stated sequence keep it, the others join by date."""
    if len(steps) == 1:
        return steps
    stated = [step for step in steps if step.event.sequence is not None]
    stated.sort(key=lambda step: step.event.sequence or 0)
    others = [step for step in steps if step.event.sequence is None]
    merged = list(heapq.merge(stated, others, key=lambda step: span(step.when)))
    return _after_what_it_needs(merged, placed_before)


def _after_what_it_needs(steps: list[Step], placed_before: set[str | None]) -> list[Step]:
    """Move what needs another event of the same stage to behind it; a ring of needs is left as it stands."""
    needs = {step.event.id: _needed_by(step, steps, placed_before) for step in steps}
    waiting, ordered = list(steps), []
    left = {step.event.id for step in steps}
    while waiting:
        ready = next((at for at, step in enumerate(waiting) if needs[step.event.id] not in left), 0)
        ordered.append(waiting.pop(ready))
        left.remove(ordered[-1].event.id)
    return ordered


def _needed_by(step: Step, steps: list[Step], placed_before: set[str | None]) -> str | None:
    """Give the event of the same stage that must have come first, or None."""
    event = step.event
    if undone := undone_by(event):
        return undone
    if not isinstance(event, Separation | Alteration) or piece_of(event) in placed_before:
        return None
    placings = (
        s.event for s in steps if isinstance(s.event, Placing) and piece_of(s.event) == piece_of(event)
    )
    return next((p.id for p in placings if event.sequence is None or p.sequence is None), None)
