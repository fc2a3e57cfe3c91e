"""Gather the records that bindings are shown from: volumes with all that happened there, pieces, pictures."""

from __future__ import annotations

from collections.abc import Iterable

from guardbook.actions.event_dossier import dossier_of_host, events_naming, seen
from guardbook.binding.dossier import Dossier, host_of
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from guardbook.records.carrier import Carrier
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.wording import _


def host_called(access: Access, name: str) -> HostVolume:
    """Give the volume of an identifier in any spelling, or of a workshop number.

    Raises NotFound, Gone, and WrongUse for a record that is no volume.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, HostVolume):
        message = _("{record} is no volume. Name a volume to see it at one of its stages.")
        raise WrongUse(message=message.format(record=record.short))
    return record


def dossier_of_hosts(access: Access, hosts: Iterable[HostVolume]) -> Dossier:
    """Gather volumes, the whole life of every piece that was ever in them, and the pictures of these."""
    dossiers = [dossier_of_host(access, host) for host in hosts]
    records = {iri: record for dossier in dossiers for iri, record in dossier.records.items()}
    pieces = [iri for iri, record in records.items() if isinstance(record, Fragment)]
    pictures = pictures_of(access, pieces)
    return Dossier.of([*records.values(), *pictures], max(dossier.withheld for dossier in dossiers))


def dossier_of_carrier(access: Access, carrier: Carrier) -> Dossier:
    """Gather a carrier, the pieces cut from it, the volumes they were in, and their pictures."""
    named = seen(access, access.referring([carrier.id], "carrier"))
    pieces = [record for record in named if isinstance(record, Fragment)]
    events = events_naming(access, [piece.id for piece in pieces]) if pieces else []
    hosts = {host for event in events if (host := host_of(event))}
    pictures = pictures_of(access, [piece.id for piece in pieces])
    return Dossier.of([carrier, *pieces, *events, *seen(access, hosts), *pictures])


def pictures_of(access: Access, pieces: Iterable[str]) -> list[Record]:
    """Give the pictures of pieces that this viewer may see."""
    wanted = list(pieces)
    return list(seen(access, access.referring(wanted, "depicts"))) if wanted else []
