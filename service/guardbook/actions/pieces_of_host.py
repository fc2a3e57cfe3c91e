"""Say which pieces ever were in a volume, when, and where each of them is today."""

from __future__ import annotations

from guardbook.actions.event_dossier import dossier_of_host
from guardbook.binding.pieces import HostPieces, pieces_of
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.records.host import HostVolume
from guardbook.wording import _


def pieces_of_host(access: Access, name: str) -> HostPieces:
    """Give the pieces of the volume of an identifier in any spelling, or of a workshop number.

    Events that this viewer may not see are counted and not told. Raises NotFound, Gone, and WrongUse for a
    record that is no volume.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, HostVolume):
        raise WrongUse(
            message=_("{record} is no volume. For a piece, ask where it sat.").format(record=record.short)
        )
    return pieces_of(dossier_of_host(access, record), record.id)
