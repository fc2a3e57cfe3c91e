"""Look back: all revisions of a record, one of them, or what changed between two."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.catalogue.access import Access, Kept, Revision
from guardbook.catalogue.differences import differences
from guardbook.wording import language


@dataclass(frozen=True)
class Told:
    """A revision, and what it changed of the one before it, in words."""

    revision: Revision
    changes: tuple[str, ...] = ()


def record_history(access: Access, iri: str) -> tuple[Revision, ...]:
    """Give every revision of a record, the oldest first, also of one taken out. Raises NotFound."""
    return access.history(iri)


def told_history(access: Access, iri: str) -> tuple[Told, ...]:
    """Give every revision of a record with what it changed, the newest first. Raises NotFound."""
    return tuple(reversed(list(_told(access, iri))))


def _told(access: Access, iri: str) -> Iterator[Told]:
    before = None
    for revision, record in access.versions(iri):
        yield Told(revision, differences(before, record, language()) if before and record else ())
        before = record


def revision_of(access: Access, iri: str, number: int) -> Kept:
    """Give a record as it was. Raises NotFound, and Gone where that revision took it out."""
    return access.at_revision(iri, number)


def compare_revisions(access: Access, iri: str, older: int, newer: int) -> tuple[str, ...]:
    """Say in words what changed between two revisions, one change each. Raises as `revision_of`."""
    return access.difference(iri, older, newer)
