"""Say where a piece sat, at each stage of each of its volumes, and where it is now."""

from __future__ import annotations

from guardbook.actions.event_dossier import dossier_of_piece
from guardbook.binding.whereabouts import Whereabouts, whereabouts
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.records.fragment import Fragment
from guardbook.wording import _


def where_it_sat(access: Access, name: str) -> Whereabouts:
    """Say where the piece of an identifier in any spelling, or of a workshop number, sat and is now.

    Events that this viewer may not see are counted and not told. Raises NotFound, Gone, and WrongUse for a
    record that is no piece.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Fragment):
        raise WrongUse(
            message=_("{record} is no piece. For a volume, ask for its pieces.").format(record=record.short)
        )
    return whereabouts(dossier_of_piece(access, record), record.id)
