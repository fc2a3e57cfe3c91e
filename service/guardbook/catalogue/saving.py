"""Settle what a save means for each record: new, changed, the same as it was, or refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from guardbook.catalogue import chain
from guardbook.catalogue.ledger import Entry, Head, Ledger, head_in
from guardbook.catalogue.revisions import Change, Revision
from guardbook.errors import (
    Fault,
    Gone,
    GuardbookError,
    NotFound,
    RevisionRequired,
    StaleRevision,
    raise_faults,
)
from guardbook.records.base import Record
from guardbook.records.documents import to_document
from guardbook.records.mapping import canonical, to_quads
from guardbook.wording import _


@dataclass(frozen=True)
class _Draft:
    change: Change
    body: str
    sha256: str


def save(ledger: Ledger, changes: Sequence[Change], *, who: str, what_for: str) -> tuple[Revision, ...]:
    """Add a revision for each record that changed, all or nothing; give the newest revision of each.

    A record that is already kept just so gets no new revision, so that a save may be sent twice. Raises
    StaleRevision, RevisionRequired, Gone or NotFound with one fault a record, InvalidRecord for a record
    given twice or a workshop number with two holders, StorageFailed.
    """
    _check_given_once(changes)
    drafts = [_draft(change) for change in changes]
    with ledger.connections.writing() as connection:
        heads = [head_in(connection, draft.change.record.id) for draft in drafts]
        _refuse(ledger, drafts, heads)
        pairs = list(zip(drafts, heads, strict=True))
        entries = [_entry(draft, head) for draft, head in pairs if not _same(draft, head)]
        added = ledger.add(connection, entries, who=who, what_for=what_for)
    newest = {head.revision.iri: head.revision for head in heads if head}
    newest |= {revision.iri: revision for revision in added}
    return tuple(newest[change.record.id] for change in changes)


def delete(ledger: Ledger, iri: str, *, started_from: int, who: str, why: str) -> Revision:
    """Add a tombstone; one sent twice is added once. Raises NotFound, Gone, StaleRevision, StorageFailed."""
    with ledger.connections.writing() as connection:
        head = head_in(connection, iri)
        if head is None:
            raise NotFound(message=_("No record answers to {record}.").format(record=iri))
        if head.revision.tombstone and head.revision.number == started_from + 1:
            return head.revision
        if head.revision.tombstone:
            raise gone(head.revision)
        if head.revision.number != started_from:
            raise _stale(ledger, None, iri, head, started_from)
        entry = Entry(iri, started_from + 1, None, "", chain.body_hash(""))
        return ledger.add(connection, [entry], who=who, what_for=why)[0]


def gone(tombstone: Revision) -> Gone:
    """Make the error that says when, by whom and why a record was taken out."""
    day = tombstone.when.date().isoformat()
    told = (
        _("{record} was taken out on {day} by {who}: {reason}")
        if tombstone.who
        else _("{record} was taken out on {day}: {reason}")
    )
    return Gone(
        message=told.format(record=tombstone.iri, day=day, who=tombstone.who, reason=tombstone.what_for),
        details={
            "when": tombstone.when.isoformat(),
            "who": tombstone.who,
            "why": tombstone.what_for,
            "revision": tombstone.number,
        },
    )


def _check_given_once(changes: Sequence[Change]) -> None:
    counts = Counter(change.record.id for change in changes)
    twice = [iri for iri, count in counts.items() if count > 1]
    raise_faults(
        [_fault(iri, _("the record more than once"), _("each record once in a save")) for iri in twice],
        _("Nothing was saved."),
    )


def _draft(change: Change) -> _Draft:
    body = canonical(to_quads(change.record))
    return _Draft(change, body, chain.body_hash(body))


def _entry(draft: _Draft, head: Head | None) -> Entry:
    number = head.revision.number + 1 if head else 1
    return Entry(draft.change.record.id, number, draft.change.record, draft.body, draft.sha256)


def _same(draft: _Draft, head: Head | None) -> bool:
    return head is not None and not head.revision.tombstone and head.revision.sha256 == draft.sha256


def _refuse(ledger: Ledger, drafts: Iterable[_Draft], heads: Iterable[Head | None]) -> None:
    """Raise one error that holds a fault for each record that may not be saved so."""
    pairs = zip(drafts, heads, strict=True)
    errors = [error for draft, head in pairs if (error := _refusal(ledger, draft, head))]
    if errors:
        errors[0].faults = tuple(fault for error in errors for fault in error.faults)
        raise errors[0]


def _refusal(ledger: Ledger, draft: _Draft, head: Head | None) -> GuardbookError | None:
    record, started_from = draft.change.record, draft.change.started_from
    if _same(draft, head) or (head is None and started_from is None):
        return None
    if head is None:
        found = _("revision {number}").format(number=started_from)
        fault = _fault(record.id, found, _("no revision: it is not in this catalogue yet"))
        message = _("{record} is new here; save it without a revision.").format(record=record.id)
        return NotFound(message=message, faults=(fault,))
    if started_from == head.revision.number:
        return None
    if head.revision.tombstone and started_from is None:
        error: GuardbookError = gone(head.revision)
        mend = _("To bring it back, save it from revision {number}.").format(number=head.revision.number)
        fault = _fault(record.id, _("a record that was taken out"), _("one that is here or new"), mend)
        error.faults = (fault,)
        return error
    return _stale(ledger, record, record.id, head, started_from)


def _stale(
    ledger: Ledger, yours: Record | None, iri: str, head: Head, started_from: int | None
) -> RevisionRequired | StaleRevision:
    current = head.revision
    details = {
        "current": current.number,
        "started_from": started_from,
        "saved_by": current.who,
        "saved_when": current.when.isoformat(),
        "yours": to_document(yours) if yours else None,
        "theirs": None if current.tombstone else to_document(ledger.record(current.sequence)),
    }
    expected = _("revision {number}, saved by {who}").format(number=current.number, who=current.who)
    mend = _("Look at what changed in between, and save again from the newest revision.")
    if started_from is None:
        fault = _fault(iri, _("no revision"), expected, mend)
        message = _(
            "{record} is already here. Say which revision you started from; the newest is {number}."
        ).format(record=iri, number=current.number)
        return RevisionRequired(message=message, faults=(fault,), details=details)
    fault = _fault(iri, _("revision {number}").format(number=started_from), expected, mend)
    told = _("{record} was saved by {who} since you opened it. Nothing was overwritten.")
    message = told.format(record=iri, who=current.who)
    return StaleRevision(message=message, faults=(fault,), details=details)


def _fault(where: str, found: str, expected: str, mend: str = "") -> Fault:
    return Fault(where=where, found=found, expected=expected, mend=mend)
