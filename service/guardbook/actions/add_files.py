"""Add the records of files: Turtle and its kin, JSON, CSV, XLSX. All are kept, or none is."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guardbook.actions.named_records import NamedRecords
from guardbook.actions.rows_together import Joined, RowsTogether, place_of
from guardbook.actions.save_records import faults_among
from guardbook.catalogue.access import Access, Change, Revision
from guardbook.catalogue.workshop_numbers import number_key
from guardbook.errors import Fault, UnreadableFile, WrongUse, raise_faults
from guardbook.intake.drafts import Draft, Findings, RowDraft, WholeDraft
from guardbook.intake.read import read_file
from guardbook.records.base import Record, natural_order, parts_of
from guardbook.records.fields import fields_of
from guardbook.wording import _

Progress = Callable[[int, int], None]
_PLACE = re.compile(r"(?P<short>[a-z]+/[^\s#]+)(?P<part>#[\w.-]+)?\s*(?P<path>\S*)")
_MESSAGE = "Nothing was saved."


@dataclass(frozen=True, kw_only=True)
class Added:
    """What adding files did, or would do: IRIs of new, changed and unchanged records, and the records.

    `faults` holds everything found wrong or doubtful in a dry run, and the doubts that were accepted
    otherwise. `revisions` is empty in a dry run.
    """

    new: tuple[str, ...]
    changed: tuple[str, ...]
    unchanged: tuple[str, ...]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]
    records: tuple[Record, ...]
    revisions: tuple[Revision, ...] = ()


def add_files(
    access: Access,
    files: Sequence[tuple[str, bytes]],
    *,
    who: str,
    what_for: str,
    sheet_kind: str | None = None,
    revision: int | None = None,
    sure: bool = False,
    dry_run: bool = False,
    progress: Progress | None = None,
) -> Added:
    """Add what files, given as (name, content), hold; rows are laid over the records they name.

    A whole record (JSON, RDF) replaces the one kept, and needs the revision it started from: its own
    `revision`, or the argument where there is one record. In a dry run nothing is saved and the faults are
    given. Else all faults are raised at once, by file, sheet, row and column: UnreadableFile where no file
    could be read, InvalidRecord, or Doubtful unless the person is `sure`; StaleRevision and
    RevisionRequired where nothing else is wrong, and as `Access.save`.
    """
    findings = Findings()
    drafts = list(_drafts(files, sheet_kind, findings, progress))
    joined, broken = _joined(access, drafts, revision, findings)
    fresh = [one for one in joined if not one.is_unchanged]
    faults = _in_order([*findings.faults, *_faults(access, fresh, broken)])
    stale = _in_order(_stale(fresh))
    revisions: tuple[Revision, ...] = ()
    if not dry_run:
        # what is only stale is left to the save, which gives both versions
        raise_faults(faults + stale if _certain(faults) else faults, _MESSAGE, sure=sure)
        changes = [Change(one.record, one.started_from) for one in fresh]
        revisions = access.save(changes, who=who, what_for=what_for)
    return _added(joined, faults + stale, findings.notes, revisions)


def _in_order(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Give each fault once, by file, sheet, row and column."""
    return tuple(sorted(dict.fromkeys(faults), key=lambda fault: natural_order(fault.where)))


def _certain(faults: Iterable[Fault]) -> bool:
    return any(not fault.doubt for fault in faults)


def _drafts(
    files: Sequence[tuple[str, bytes]], kind: str | None, findings: Findings, progress: Progress | None
) -> Iterator[Draft]:
    if not files:
        raise WrongUse(message=_("Name a file to add."))
    unreadable = []
    for name, data in files:
        try:
            intake = read_file(data, name, sheet_kind=kind, progress=progress)
        except UnreadableFile as error:
            unreadable.append(error)
            continue
        findings.faults += intake.faults
        findings.broken |= intake.broken
        for note in intake.notes:
            findings.note(note.removesuffix("."))
        yield from intake.drafts
    findings.faults += [fault for error in unreadable for fault in error.faults]
    if len(unreadable) == len(files):
        raise UnreadableFile(
            message=" ".join(error.message for error in unreadable), faults=tuple(findings.faults)
        )


def _joined(
    access: Access, drafts: Sequence[Draft], revision: int | None, findings: Findings
) -> tuple[list[Joined], frozenset[str]]:
    """Give the records that the drafts come to, and the IRIs of those that are not right yet."""
    whole = [draft for draft in drafts if isinstance(draft, WholeDraft)]
    rows = [draft for draft in drafts if isinstance(draft, RowDraft)]
    if revision is not None and (rows or len(whole) > 1):
        raise WrongUse(
            message=_("A revision can be given for one record in JSON or RDF, and for nothing else.")
        )
    named = NamedRecords(access)
    for draft in whole:
        named.add(draft.record.id, draft.record.workshop_number, getattr(draft.record, "name", None))
    together = RowsTogether(access, named, {draft.record.id: draft.record for draft in whole}, findings)
    found = [_whole(access, draft, revision) for draft in whole]
    found += together.joined(rows)
    return list(_once(found, findings)), together.broken | findings.broken


def _whole(access: Access, draft: WholeDraft, revision: int | None) -> Joined:
    before = access.record(draft.record.id) if access.has(draft.record.id) else None
    return Joined(draft.record, before, draft.revision or revision, draft.where, {})


def _once(joined: Iterable[Joined], findings: Findings) -> Iterator[Joined]:
    """Leave out a record that stands in the files twice, and name it unless both say the same."""
    seen: dict[str, Joined] = {}
    for one in joined:
        first = seen.setdefault(one.record.id, one)
        if first is one:
            yield one
        elif first.record != one.record:
            found = _("another {record}").format(record=one.record.short)
            expected = _("what {place} says of it").format(place=first.where)
            findings.fault(one.where, found, expected, _("Keep one of the two."))


def _faults(access: Access, joined: Sequence[Joined], broken: frozenset[str]) -> Iterator[Fault]:
    """Give what the shapes, the other records and the workshop numbers have against it, cell by cell.

    That a record is missing which is only `broken` is not worth a second fault.
    """
    places = {one.record.short: one for one in joined}
    for fault in faults_among(access, [one.record for one in joined]):
        if fault.found.partition("#")[0] not in broken:
            yield _placed(fault, places)
    numbers = Counter(number_key(one.record.workshop_number) for one in joined)
    for one in joined:
        number = one.record.workshop_number
        holder = access.numbered(number) if number else None
        if number and (numbers[number_key(number)] > 1 or holder not in {None, one.record.id}):
            yield Fault(
                where=one.cells.get("workshopNumber") or f"{one.where}, workshopNumber",
                found=repr(number),
                expected=_("a number that no other record has ({record} has it)").format(record=holder)
                if holder
                else _("a number that no other record has (another in these files has it)"),
                mend=_("Give one of them another number."),
            )


def _placed(fault: Fault, places: dict[str, Joined]) -> Fault:
    """Say where in the files a fault of a record lies."""
    found = _PLACE.match(fault.where)
    one = places.get(found["short"]) if found else None
    if not found or not one:
        return fault
    path = found["path"]
    if found["part"]:
        path = f"{_field_of(found['part'], one.record)}.{path}"
    return replace(fault, where=place_of(path, one.where, one.cells))


def _field_of(part: str, record: Record) -> str:
    """Give the field that holds a part."""
    for field in fields_of(type(record)):
        held = getattr(record, field.name) if field.part else ()
        if any(one.id == part or part in {inner.id for inner in parts_of(one)} for one in held):
            return field.json_name
    return ""


def _stale(joined: Iterable[Joined]) -> Iterator[Fault]:
    for one in joined:
        current = one.before.revision if one.before else None
        if one.started_from != current:
            yield Fault(
                where=one.cells.get("revision") or one.where,
                found=_("revision {number}").format(number=one.started_from)
                if one.started_from
                else _("no revision"),
                expected=_("revision {number}").format(number=current)
                if current
                else _("no revision, since the record is new here"),
                mend=_("Look at what changed in between, and start from the newest revision.")
                if current
                else "",
            )


def _added(
    joined: Sequence[Joined],
    faults: tuple[Fault, ...],
    notes: tuple[str, ...],
    revisions: tuple[Revision, ...],
) -> Added:
    return Added(
        new=tuple(one.record.id for one in joined if not one.before),
        changed=tuple(one.record.id for one in joined if one.before and not one.is_unchanged),
        unchanged=tuple(one.record.id for one in joined if one.is_unchanged),
        faults=faults,
        notes=notes,
        records=tuple(one.record for one in joined),
        revisions=revisions,
    )
