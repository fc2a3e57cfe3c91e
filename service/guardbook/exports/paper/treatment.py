"""Which of all that happened to a volume and its pieces was the treatment, and in which order it was done.

Common practice, no published source: what came after the volume was received; where no stage says when that
was, the removals in treatment and what was done to the same pieces from then on.
"""

from __future__ import annotations

from collections.abc import Iterator

from guardbook.binding.dossier import Dossier, host_of, piece_of
from guardbook.binding.ordering import is_planned, stages_of
from guardbook.binding.times import span
from guardbook.exports.paper.matter import Matter
from guardbook.records.dates import Day
from guardbook.records.event import Event
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

RECEIVED = "as-received"
_IN_TREATMENT = frozenset({"lifted-in-treatment", "lifted-and-returned"})


def received_stage(host: HostVolume | None) -> int | None:
    """Give the number of the stage at which a volume was received, or None."""
    return next((stage.number for stage in stages_of(host) if stage.stage_kind == RECEIVED), None)


def stage_number(host: HostVolume | None, event: Event) -> int | None:
    """Give the number of the stage of a volume that an event led to, or None where it names none of it."""
    named = getattr(event, "stage", None)
    if host is None or not named:
        return None
    return next((stage.number for stage in host.stages if host.id + stage.id == named), None)


def treatment_of(matter: Matter) -> tuple[Event, ...]:
    """Give the events of the treatment that a report tells of, those done, in order."""
    found = [event for event in _told(matter) if not is_planned(event) and _is_treatment(matter, event)]
    return tuple(sorted(found, key=_order))


def planned_in(matter: Matter) -> tuple[Event, ...]:
    """Give the events that are only planned."""
    return tuple(sorted((event for event in _told(matter) if is_planned(event)), key=_order))


def is_return(event: Event) -> bool:
    """Say whether an event put a piece back."""
    return isinstance(event, Placing) and (event.undoes is not None or event.return_kind is not None)


def _told(matter: Matter) -> Iterator[Event]:
    """Give the events of the pieces that the report tells of, and those of the volume itself."""
    pieces = {one.piece for one in matter.pieces}
    host = matter.host.id if matter.host else None
    for record in matter.dossier.records.values():
        if not isinstance(record, Event):
            continue
        piece = piece_of(record)
        if piece in pieces or (piece is None and matter.subject is matter.host and host_of(record) == host):
            yield record


def _is_treatment(matter: Matter, event: Event) -> bool:
    host, received = matter.host, received_stage(matter.host)
    if host is not None and host_of(event) not in {None, host.id}:
        return False
    number = stage_number(host, event)
    if received is not None and number is not None:
        return number > received
    if isinstance(event, Separation):
        return event.separation_kind in _IN_TREATMENT and event.host in {None, host.id if host else None}
    begun = _begun(matter.dossier, host, piece_of(event))
    if begun is None or (isinstance(event, Placing) and not is_return(event)):
        return False
    return span(event.when).latest >= begun


def _begun(dossier: Dossier, host: HostVolume | None, piece: str | None) -> Day | None:
    """Give the day on which a piece was first lifted in treatment, or None."""
    lifted = [
        span(event.when).earliest
        for event in (dossier.events_of_piece(piece) if piece else ())
        if isinstance(event, Separation)
        and event.separation_kind in _IN_TREATMENT
        and not is_planned(event)
        and (host is None or event.host == host.id)
    ]
    return min(lifted, default=None)


def _order(event: Event) -> tuple[object, ...]:
    return (span(event.when).earliest, event.sequence or 0, event.kind, event.id)
