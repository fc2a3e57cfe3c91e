"""Gather the records that the whereabouts of pieces are worked out from, in few reads, past the gate."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guardbook.binding.dossier import Dossier, host_of, piece_of
from guardbook.catalogue.access import Access
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.kinds import EVENT_KINDS
from guardbook.records.move import Move
from guardbook.records.separation import Separation


def events_naming(access: Access, iris: Iterable[str]) -> list[Event]:
    """Give all events that name one of these pieces or volumes and that this viewer may see."""
    named = access.referring(list(iris))
    records = (access.record(iri).record for iri in named if iri.rsplit("/", 2)[-2] in EVENT_KINDS)
    return [record for record in records if isinstance(record, Event)]


def dossier_of_piece(access: Access, piece: Fragment) -> Dossier:
    """Gather a piece, its events, its volumes with what else happened there, and the pieces that lay near."""
    events = events_naming(access, [piece.id])
    hosts = sorted({host for event in events if (host := host_of(event))})
    there = events_naming(access, hosts) if hosts else []
    others = {iri for event in there if (iri := piece_of(event))}
    near = seen(access, [*hosts, *others, *_kept_with(events)])
    records: list[Record] = [piece, *events, *there, *near]
    return Dossier.of([*records, *seen(access, _keepers(records))], _not_shown(access, [piece.id, *hosts]))


def dossier_of_host(access: Access, host: HostVolume) -> Dossier:
    """Gather a volume, all that happened there, and the whole life of every piece that was ever in it."""
    there = events_naming(access, [host.id])
    pieces = sorted({iri for event in there if (iri := piece_of(event))})
    lives = events_naming(access, pieces) if pieces else []
    elsewhere = {iri for event in lives if (iri := host_of(event))} - {host.id}
    records: list[Record] = [host, *there, *lives, *seen(access, [*pieces, *elsewhere, *_kept_with(lives)])]
    return Dossier.of([*records, *seen(access, _keepers(records))], _not_shown(access, [host.id, *pieces]))


def seen(access: Access, iris: Iterable[str]) -> Iterator[Record]:
    """Give those of some records that are there for this viewer."""
    return (access.record(iri).record for iri in sorted(set(iris)) if access.has(iri))


def _not_shown(access: Access, iris: list[str]) -> int:
    return access.not_shown(iris, EVENT_KINDS)


def _kept_with(events: Iterable[Event]) -> set[str]:
    return {event.kept_with for event in events if isinstance(event, Move) and event.kept_with}


def _keepers(records: Iterable[Record]) -> set[str]:
    """Give who keeps, or was given, any of this, so that they can be called by their names."""
    found: set[str | None] = set()
    for record in records:
        match record:
            case Fragment() | HostVolume():
                found.add(record.keeper)
            case Separation() | Move():
                found.add(record.went_to)
            case _:
                continue
    return {iri for iri in found if iri}
