"""Say when a volume was bound, or a piece made and moved, as far as the records prove it, and why."""

from __future__ import annotations

from guardbook.actions.event_dossier import dossier_of_host, dossier_of_piece, seen
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.evidence.dated import Dating
from guardbook.evidence.dating import dating_of
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.wording import _


def date_record(access: Access, name: str) -> Dating:
    """Work out the dates of the volume or piece of an identifier in any spelling, or of a workshop number.

    Raises NotFound, Gone, and WrongUse for a record that is neither.
    """
    record = access.record(access.resolve(name)).record
    return dating_of(evidence_dossier(access, record), record.id)


def evidence_dossier(access: Access, record: Record) -> Dossier:
    """Gather a volume or piece with its events, what lay with it, and what its pieces were cut from."""
    match record:
        case HostVolume():
            found = dossier_of_host(access, record)
        case Fragment():
            found = dossier_of_piece(access, record)
        case _:
            raise WrongUse(
                message=_("{record} is neither a volume nor a piece. Name one of those.").format(
                    record=record.short
                )
            )
    pieces = [one for one in found.records.values() if isinstance(one, Fragment)]
    carriers = {place.carrier for piece in pieces for place in piece.carrier_places}
    joined = {iri for piece in pieces for trace in piece.features for iri in trace.continues_on}
    return Dossier.of([*found.records.values(), *seen(access, carriers | joined)], found.withheld)
