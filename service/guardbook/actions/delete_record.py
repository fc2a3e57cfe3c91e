"""Take a record out of the catalogue; its history stays, its address says what happened."""

from __future__ import annotations

from guardbook.catalogue.access import Access, Revision
from guardbook.errors import Fault, raise_faults


def delete_record(access: Access, iri: str, *, started_from: int, who: str, why: str) -> Revision:
    """Take a record out, giving the reason; give its tombstone.

    Raises InvalidRecord naming every record that still names this one, NotFound, Gone if it was taken out
    before, StaleRevision, StorageFailed.
    """
    naming = access.about(iri) if access.has(iri) else ()
    raise_faults(
        (
            Fault(
                where=other,
                found=f"a mention of {iri}",
                expected="none",
                mend="Take that out or change it first.",
            )
            for other in naming
        ),
        "It was not taken out: other records name it.",
    )
    return access.delete(iri, started_from=started_from, who=who, why=why)
