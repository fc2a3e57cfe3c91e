"""Save records that come as JSON text: some new ones at once, one as a whole, or a few fields of one."""

from __future__ import annotations

from typing import Any

from guardbook.actions.merge_record import merge_record
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Revision
from guardbook.errors import Fault, InvalidRecord, WrongUse
from guardbook.intake import json_documents
from guardbook.intake.drafts import Findings, WholeDraft

THE_BODY = "the body"


def save_documents(
    access: Access, data: bytes, *, who: str, what_for: str, sure: bool = False
) -> tuple[Revision, ...]:
    """Save one record, a list of them or `{"records": [...]}`: all of them or none.

    One without `id` is given a fresh identifier, one that is known already says in `revision` which one it
    started from. Raises UnreadableFile, InvalidRecord with the faults of all, and as `save_records`.
    """
    drafts = _drafts(json_documents.parse(data, THE_BODY))
    if not drafts:
        raise WrongUse(
            message="There is no record in the body; send one as a JSON object, or a list of them."
        )
    records = [(draft.record, draft.revision) for draft in drafts]
    return save_records(access, records, who=who, what_for=what_for, sure=sure)


def put_document(
    access: Access,
    iri: str,
    data: bytes,
    *,
    started_from: int | None,
    who: str,
    what_for: str,
    sure: bool = False,
) -> Revision:
    """Save a document as the record of this IRI: a new one for None, else one that replaces what was there.

    `id` may be left out, and may say nothing else than the IRI does. Raises as `save_documents`.
    """
    document = json_documents.parse(data, THE_BODY)
    drafts = _drafts({"id": iri, **document} if isinstance(document, dict) else document)
    if [draft.record.id for draft in drafts] != [iri]:
        found = ", ".join(draft.record.id for draft in drafts) or "nothing"
        fault = Fault(where="the body, id", found=found, expected=iri, mend="Leave it out, or mend it.")
        raise InvalidRecord(message="The document is that of another record.", faults=(fault,))
    records = [(drafts[0].record, started_from)]
    return save_records(access, records, who=who, what_for=what_for, sure=sure)[0]


def patch_document(
    access: Access,
    iri: str,
    data: bytes,
    *,
    started_from: int,
    who: str,
    what_for: str,
    sure: bool = False,
) -> Revision:
    """Merge a JSON merge patch into a record and save it. Raises as `merge_record`."""
    patch = json_documents.parse(data, THE_BODY)
    if not isinstance(patch, dict):
        fault = Fault(where=THE_BODY, found=type(patch).__name__, expected="a JSON object with fields")
        raise WrongUse(message="This is not a merge patch.", faults=(fault,))
    return merge_record(access, iri, patch, started_from=started_from, who=who, what_for=what_for, sure=sure)


def _drafts(found: Any) -> list[WholeDraft]:
    findings = Findings()
    drafts = list(json_documents.drafts_of(found, THE_BODY, findings))
    if findings.faults:
        raise InvalidRecord(message="Nothing was saved.", faults=tuple(findings.faults))
    return drafts
