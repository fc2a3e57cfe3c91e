"""Set the known pieces of a book, roll or document that was cut up out on its leaves."""

from __future__ import annotations

from guardbook.actions.binding_dossier import dossier_of_carrier
from guardbook.binding.leaf import rejoined
from guardbook.binding.leaf_parts import Rejoined
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.records.carrier import Carrier
from guardbook.wording import _


def rejoin_carrier(access: Access, name: str) -> Rejoined:
    """Rejoin the carrier of an identifier in any spelling, or of a workshop number.

    Raises NotFound, Gone, and WrongUse for a record that is no carrier.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Carrier):
        raise WrongUse(
            message=_("{record} is no carrier. Name the book, roll or document pieces were cut from.").format(
                record=record.short
            )
        )
    return rejoined(dossier_of_carrier(access, record), record.id)
