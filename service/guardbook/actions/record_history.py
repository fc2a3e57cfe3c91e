"""Look back: all revisions of a record, one of them, or what changed between two."""

from __future__ import annotations

from guardbook.catalogue.access import Access, Kept, Revision


def record_history(access: Access, iri: str) -> tuple[Revision, ...]:
    """Give every revision of a record, the oldest first, also of one taken out. Raises NotFound."""
    return access.history(iri)


def revision_of(access: Access, iri: str, number: int) -> Kept:
    """Give a record as it was. Raises NotFound, and Gone where that revision took it out."""
    return access.at_revision(iri, number)


def compare_revisions(access: Access, iri: str, older: int, newer: int) -> tuple[str, ...]:
    """Say in words what changed between two revisions, one change each. Raises as `revision_of`."""
    return access.difference(iri, older, newer)
