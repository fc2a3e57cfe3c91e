"""All records that bear on one question, and what is to be found in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, said_later

_NOT_SHOWN = {
    "agent": said_later("someone who is not named here"),
    "institution": said_later("a keeper who is not named here"),
    "host": said_later("a volume that is not shown here"),
    "fragment": said_later("a piece that is not shown here"),
}


def _kind(iri: str) -> str:
    return iri.rsplit("/", 2)[-2]


def piece_of(event: Event) -> str | None:
    """Give the piece an event happened to, or None if it happened to a volume alone."""
    match event:
        case Placing() | Separation():
            return event.piece
        case Alteration():
            return event.target if _kind(event.target) == "fragment" else None
        case Move():
            return event.object if _kind(event.object) == "fragment" else None
        case _:
            return None


def host_of(event: Event) -> str | None:
    """Give the volume an event happened in or to, or None where there is none or none is said."""
    match event:
        case Placing() | Separation():
            return event.host
        case Alteration():
            return event.host or (event.target if _kind(event.target) == "host" else None)
        case Move():
            return event.object if _kind(event.object) == "host" else None
        case _:
            return None


@dataclass(frozen=True)
class Dossier:
    """Records by IRI, and how many events are known of but not shown to this viewer."""

    records: Mapping[str, Record]
    withheld: int = 0

    @classmethod
    def of(cls, records: Iterable[Record], withheld: int = 0) -> Dossier:
        """Make a dossier, in an order of its own whatever order the records come in."""
        by_iri = {record.id: record for record in sorted(records, key=lambda record: record.id)}
        return cls(MappingProxyType(by_iri), withheld)

    def piece(self, iri: str) -> Fragment | None:
        """Give a piece, if it is here."""
        found = self.records.get(iri)
        return found if isinstance(found, Fragment) else None

    def host(self, iri: str | None) -> HostVolume | None:
        """Give a volume, if it is here."""
        found = self.records.get(iri or "")
        return found if isinstance(found, HostVolume) else None

    def events_of_piece(self, iri: str) -> tuple[Event, ...]:
        """Give everything that happened, or is planned, to a piece."""
        return self._by_piece.get(iri, ())

    def events_at_host(self, iri: str) -> tuple[Event, ...]:
        """Give everything that happened, or is planned, in or to a volume."""
        return self._by_host.get(iri, ())

    def name(self, iri: str | None) -> str:
        """Call a record by its title or name, or say that it is not shown."""
        record = self.records.get(iri or "")
        if record is None:
            return _(_NOT_SHOWN.get(_kind(iri or "//"), said_later("a record that is not shown here")))
        return record.display_title

    @cached_property
    def _by_piece(self) -> Mapping[str, tuple[Event, ...]]:
        return self._grouped(piece_of)

    @cached_property
    def _by_host(self) -> Mapping[str, tuple[Event, ...]]:
        return self._grouped(host_of)

    def _grouped(self, key: Callable[[Event], str | None]) -> Mapping[str, tuple[Event, ...]]:
        groups: dict[str, list[Event]] = defaultdict(list)
        for record in self.records.values():
            if isinstance(record, Event) and (iri := key(record)) is not None:
                groups[iri].append(record)
        return {iri: tuple(events) for iri, events in groups.items()}
