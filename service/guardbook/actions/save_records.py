"""Save records, once they have been checked against their shapes and against one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guardbook.actions.records_together import RecordsTogether
from guardbook.catalogue.access import Access, Change, Revision
from guardbook.completeness.structure import structure_faults
from guardbook.errors import Fault, raise_faults
from guardbook.records.base import Record
from guardbook.records.mapping import to_quads
from guardbook.wording import _

_CHECKED_AT_ONCE = 50


def save_records(
    access: Access,
    drafts: Sequence[tuple[Record, int | None]],
    *,
    who: str,
    what_for: str,
    sure: bool = False,
) -> tuple[Revision, ...]:
    """Save records with the revisions they started from (None: new), all or none; give the newest revisions.

    Raises InvalidRecord with every fault: what the shapes of structure forbid, a reference to what is
    neither here nor in the same save, a part left out that other records name, a separation of a piece from
    a host it was never placed in. Doubts raise Doubtful unless the person is `sure`. Raises as
    `Access.save` beside that.
    """
    raise_faults(
        faults_among(access, [record for record, _started in drafts]), _("Nothing was saved."), sure=sure
    )
    changes = [Change(record, started_from) for record, started_from in drafts]
    return access.save(changes, who=who, what_for=what_for)


def faults_among(access: Access, records: Sequence[Record]) -> tuple[Fault, ...]:
    """Give every fault and doubt that would keep these records from being saved in one go."""
    return (*structure_faults_of(records), *RecordsTogether(access, records).faults())


def structure_faults_of(records: Sequence[Record]) -> Iterator[Fault]:
    """Give what the shapes of structure find in records, some at a time, so that many take no more memory."""
    for first in range(0, len(records), _CHECKED_AT_ONCE):
        some = records[first : first + _CHECKED_AT_ONCE]
        yield from structure_faults(quad for record in some for quad in to_quads(record))
