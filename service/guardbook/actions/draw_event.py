"""Draw what an event did: its volume before and after, the piece outlined."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from guardbook.actions.draw_stage import StageDrawn, draw_stage
from guardbook.binding.dossier import host_of, piece_of
from guardbook.binding.ordering import is_planned, likely_stage, stages_of
from guardbook.catalogue.access import Access
from guardbook.errors import NothingToDraw
from guardbook.records.event import Event
from guardbook.records.host import HostVolume
from guardbook.records.move import Move
from guardbook.records.placing import Placing


@dataclass(frozen=True)
class EventDrawn:
    """A volume before and after an event; None where there is no such stage, or nothing can be drawn."""

    host: HostVolume
    before: StageDrawn | None
    after: StageDrawn | None


def draw_event(
    access: Access, event: Event, *, link: Callable[[str], str] | None = None, id_prefix: str = "drawn"
) -> EventDrawn | None:
    """Draw the volume of a placing, separation or alteration at the stage before it, and at its own.

    Of what is only planned, and of a move, the volume is drawn as it stands. None where no volume is named,
    or not to this viewer. `link` and `id_prefix` are as in `draw_stage`; both are drawn for half a page.
    """
    iri = host_of(event)
    host = access.record(iri).record if iri and access.has(iri) else None
    if not isinstance(host, HostVolume):
        return None
    piece = piece_of(event)

    def drawn(side: str, stage: int | None, like: str | None) -> StageDrawn | None:
        with suppress(NothingToDraw):
            return draw_stage(
                access,
                host.id,
                stage,
                like=like,
                narrow=True,
                link=link,
                id_prefix=f"{id_prefix}-{side}",
                marked=piece,
            )
        return None

    if is_planned(event) or isinstance(event, Move):
        return EventDrawn(host, drawn("before", None, None), None)
    before, after = _stages(event, host)
    if isinstance(event, Placing):
        second = drawn("after", after, None)
        like = second.key if second else None
        return EventDrawn(host, None if before is None else drawn("before", before, like), second)
    first = None if before is None else drawn("before", before, None)
    return EventDrawn(host, first, drawn("after", after, first.key if first else None))


def _stages(event: Event, host: HostVolume) -> tuple[int | None, int]:
    """Give the stage before an event, None for the first, and the one that it led to."""
    stages = stages_of(host)
    named = {f"{host.id}{stage.id}": stage.number for stage in stages}
    after = named.get(getattr(event, "stage", None) or "") or likely_stage(event, stages)
    return max((stage.number for stage in stages if stage.number < after), default=None), after
