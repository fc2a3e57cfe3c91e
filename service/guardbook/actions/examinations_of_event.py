"""Say what can be examined only while a piece is lifted, what has been, and what to mind."""

from __future__ import annotations

from guardbook.actions.event_dossier import dossier_of_piece, seen
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access
from guardbook.errors import WrongUse
from guardbook.evidence.examinations import Examinations, examinations_of
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _


def examinations_of_event(access: Access, name: str) -> Examinations:
    """Say it for a removal or a return, planned or done, or for a piece: its planned or its last removal.

    Raises NotFound, Gone, and WrongUse for another record, or a piece that nothing takes out or puts back.
    """
    record = access.record(access.resolve(name)).record
    event = _removal_of(access, record) if isinstance(record, Fragment) else record
    if not isinstance(event, Separation | Placing):
        message = _("{record} is neither a removal nor a return, nor a piece that has one.")
        raise WrongUse(message=message.format(record=event.short))
    piece = access.record(event.piece).record if access.has(event.piece) else None
    found = dossier_of_piece(access, piece) if isinstance(piece, Fragment) else Dossier.of([event])
    images = (
        [one for one in seen(access, access.about(event.piece)) if isinstance(one, Image)] if piece else []
    )
    return examinations_of(Dossier.of([*found.records.values(), *images], found.withheld), event)


def _removal_of(access: Access, piece: Fragment) -> Separation | Fragment:
    removals = [one for one in seen(access, access.about(piece.id)) if isinstance(one, Separation)]
    removals.sort(key=lambda one: (one.status != "planned", one.when or ""))
    planned = [one for one in removals if one.status == "planned"]
    return planned[0] if planned else removals[-1] if removals else piece
