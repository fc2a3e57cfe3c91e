"""Change some fields of a record and leave the rest as it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Kept, Revision
from guardbook.errors import Fault, InvalidRecord
from guardbook.records.documents import from_document, to_document
from guardbook.wording import _


def merge_record(
    access: Access,
    iri: str,
    patch: Mapping[str, Any],
    *,
    started_from: int | None,
    who: str,
    what_for: str,
    sure: bool = False,
) -> Revision:
    """Merge a patch into the JSON document of a record and save it (RFC 7396: null takes a field away).

    A list is replaced as a whole. The patch is laid on the revision it started from, so that a stale one
    can be shown beside what was saved in between. Raises InvalidRecord, Doubtful, StaleRevision,
    RevisionRequired, NotFound or Gone.
    """
    kept = starting_point(access, iri, started_from)
    merged = merge_patch(to_document(kept.record), patch)
    found = f"{merged.get('type')} {merged.get('id')}"
    if found != (expected := f"{type(kept.record).__name__} {iri}"):
        mend = _("Leave both as they are.")
        fault = Fault(where="type and id", found=found, expected=expected, mend=mend)
        message = _("{record} cannot become another record.").format(record=kept.record.short)
        raise InvalidRecord(message=message, faults=(fault,))
    record = from_document(merged)
    return save_records(access, [(record, started_from)], who=who, what_for=what_for, sure=sure)[0]


def starting_point(access: Access, iri: str, started_from: int | None) -> Kept:
    """Give the record as it was in the revision a change started from, or as it is where none was said."""
    kept = access.record(iri)
    if started_from is None or started_from >= kept.revision or started_from < 1:
        return kept
    return access.at_revision(iri, started_from)


def merge_patch(target: Any, patch: Any) -> Any:
    """Apply a JSON merge patch (RFC 7396, section 2).

    >>> merge_patch({"height": "45.5", "note": "torn"}, {"note": None, "width": "12"})
    {'height': '45.5', 'width': '12'}
    """
    if not isinstance(patch, Mapping):
        return patch
    merged = dict(target) if isinstance(target, Mapping) else {}
    for name, value in patch.items():
        if value is None:
            merged.pop(name, None)
        else:
            merged[name] = merge_patch(merged.get(name), value)
    return merged
