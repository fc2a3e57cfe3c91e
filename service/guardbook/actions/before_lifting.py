"""Gather what should be known, decided and consented to before a piece is lifted; go ahead with a reason."""

from __future__ import annotations

from collections.abc import Iterable

from guardbook.actions.check_record import check_records
from guardbook.actions.event_dossier import dossier_of_piece, seen
from guardbook.actions.merge_record import merge_record
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access, Revision
from guardbook.errors import Fault, WrongUse
from guardbook.evidence.examinations import examinations_of
from guardbook.evidence.gate import Gate, consents
from guardbook.intake.when import date_written
from guardbook.records.base import Record
from guardbook.records.decision import Decision
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.image import Image
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, ngettext

STAGE = "before-lifting"


def before_lifting(access: Access, name: str) -> Gate:
    """Say what is open before a removal, of which the identifier or that of its piece is given.

    Of a piece it is the planned removal, of several the one planned first, else the last that was made.
    Raises NotFound, Gone, and WrongUse for a record that is neither.
    """
    record = access.record(access.resolve(name)).record
    if not isinstance(record, Fragment | Separation):
        message = _("{record} is neither a piece nor a removal. Name one of those.")
        raise WrongUse(message=message.format(record=record.short))
    piece = record if isinstance(record, Fragment) else access.record(record.piece).record
    if not isinstance(piece, Fragment):
        raise WrongUse(message=_("The piece of {record} is not there.").format(record=record.short))
    dossier = _dossier(access, piece)
    planned, made = _removals(dossier, piece)
    removal = record if isinstance(record, Separation) else next(iter((*planned, *reversed(made))), None)
    return Gate(
        piece=piece,
        removal=removal,
        others=tuple(one for one in planned if removal is None or one.id != removal.id),
        report=check_records(access, list(_asked_about(dossier, piece, removal)), STAGE),
        examinations=examinations_of(dossier, removal) if removal else None,
        consent=tuple(consents(dossier, removal, piece.id)),
    )


def go_ahead(
    access: Access,
    name: str,
    *,
    started_from: int,
    when: str,
    because: str,
    who: str,
    sure: bool = False,
) -> Revision:
    """Have a planned removal become one that was made, on a day as people write it.

    Where something is left open, the reason is asked for, and is kept with the list of what was left open.
    Raises WrongUse for a record that is no planned removal, and for a day or a reason that is wanting; else
    as `merge_record`.
    """
    gate = before_lifting(access, name)
    removal = gate.removal
    if removal is None or not gate.is_planned:
        message = _("No removal of {piece} is planned, so none can go ahead.")
        raise WrongUse(message=message.format(piece=gate.piece.short))
    day, faults = _day(when)
    if gate.left_open and not because.strip():
        faults.append(_no_reason(len(gate.left_open)))
    if faults:
        raise WrongUse(message=_("The removal did not go ahead; nothing was saved."), faults=tuple(faults))
    patch = {
        "status": "done",
        "when": day,
        "wentAheadBecause": because.strip() or None,
        "notRecordedBefore": list(gate.left_open) or None,
    }
    words = {"who": who, "what_for": "lifted"}
    return merge_record(access, removal.id, patch, started_from=started_from, sure=sure, **words)


def _no_reason(left_open: int) -> Fault:
    expected = ngettext(
        "why it goes ahead though {count} thing is open",
        "why it goes ahead though {count} things are open",
        left_open,
    ).format(count=left_open)
    return Fault(where="because", found=_("nothing"), expected=expected, mend=_("Say what presses."))


def _day(when: str) -> tuple[str, list[Fault]]:
    try:
        written = date_written(when)
    except ValueError as error:
        expected, _sign, mend = str(error).partition(". ")
        return "", [Fault(where="when", found=repr(when), expected=expected, mend=mend)]
    if written.or_else:
        told = _("a day with one reading: {day} or {other}")
        told = told.format(day=written.value, other=written.or_else)
        return "", [Fault(where="when", found=repr(when), expected=told, mend=_("Write it as 2025-11-24."))]
    return written.value, []


def _dossier(access: Access, piece: Fragment) -> Dossier:
    """Gather a piece with its events, images and decisions, and whoever consented."""
    found = dossier_of_piece(access, piece)
    about = [one for one in seen(access, access.about(piece.id)) if isinstance(one, Image | Decision)]
    consented = {
        one.consent_by
        for one in (*found.records.values(), *about)
        if isinstance(one, Separation | Decision) and one.consent_by
    }
    return Dossier.of([*found.records.values(), *about, *seen(access, consented)], found.withheld)


def _removals(dossier: Dossier, piece: Fragment) -> tuple[list[Separation], list[Separation]]:
    """Give the planned removals of a piece and those made, each by date."""
    found = [one for one in dossier.events_of_piece(piece.id) if isinstance(one, Separation)]
    found.sort(key=lambda one: (one.when or "", one.id))
    planned = [one for one in found if one.status == "planned"]
    return planned, [one for one in found if one.status != "planned"]


def _asked_about(dossier: Dossier, piece: Fragment, removal: Separation | None) -> Iterable[str]:
    """Give the records whose completeness bears on a removal: of the piece, its place and its volume."""
    yield piece.id
    if removal:
        yield removal.id
        if removal.host and dossier.host(removal.host):
            yield removal.host
    for record in dossier.records.values():
        if _bears_on(record, piece, removal):
            yield record.id


def _bears_on(record: Record, piece: Fragment, removal: Separation | None) -> bool:
    match record:
        case Placing():
            host = removal.host if removal else record.host
            return record.piece == piece.id and record.host == host and not _is_planned(record)
        case Image():
            return piece.id in record.depicts
        case Decision():
            return piece.id in record.about
        case _:
            return False


def _is_planned(event: Event) -> bool:
    return event.status == "planned"
