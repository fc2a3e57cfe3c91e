"""Make everything that is made from the ledger anew: for `rebuild`, and to hold it against what is there."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from itertools import islice

from guardbook.catalogue import activities, indexing
from guardbook.catalogue.ledger import living_reader, record_in, revision_of
from guardbook.catalogue.revisions import Revision
from guardbook.errors import Fault, GuardbookError
from guardbook.records.base import Record
from guardbook.wording import _

_AT_ONCE = 500
_EMPTIED = """
    DELETE FROM heads; DELETE FROM named; DELETE FROM names;
    DELETE FROM facets; DELETE FROM texts; DELETE FROM codes
"""
# The newest revision of each record, and under a tombstone the last one that lived, as heads were numbered.
_TO_INDEX = """
    SELECT revisions.* FROM revisions
    JOIN (SELECT iri, min(sequence) AS first, max(sequence) AS last,
                 max(CASE WHEN tombstone THEN 0 ELSE sequence END) AS last_living
          FROM revisions GROUP BY iri) AS lives USING (iri)
    WHERE sequence IN (last, last_living) ORDER BY tombstone, first
"""
_THAT_NAME = """
    SELECT * FROM revisions WHERE NOT tombstone AND (iri LIKE '%/agent/%' OR iri LIKE '%/institution/%')
"""


class Reindexing:
    """Fills the derived tables of one connection from the ledger as another (or the same) sees it."""

    def __init__(self, target: sqlite3.Connection, source: sqlite3.Connection) -> None:
        self._target = target
        self._source = source
        self._faults: dict[int, Fault] = {}

    def run(self) -> tuple[Fault, ...]:
        """Make all rows anew, within the target's transaction; give a fault for each unreadable revision."""
        for statement in _EMPTIED.split(";"):
            self._target.execute(statement)
        for _revision, record in self._readable(_THAT_NAME):
            if record:
                indexing.add_names(self._target, record)
        readable = self._readable(_TO_INDEX)
        read = living_reader(self._target, self._source)
        seen: dict[int, str | None] = {}
        while some := dict(islice(readable, _AT_ONCE)):
            seen |= indexing.update(self._target, some, read)
        activities.note(self._target, seen)
        return tuple(self._faults.values())

    def _readable(self, question: str) -> Iterator[tuple[Revision, Record | None]]:
        for row in self._source.execute(question).fetchall():
            revision = revision_of(row)
            try:
                yield revision, None if revision.tombstone else record_in(self._source, revision.sequence)
            except (GuardbookError, SyntaxError, ValueError) as error:
                self._faults[revision.sequence] = Fault(
                    where=place_of(revision), found=str(error), expected=_("a record that can be read")
                )


def place_of(revision: Revision) -> str:
    """Say which entry of the ledger this is."""
    told = _("{record} revision {number} (entry {entry} of the ledger)")
    return told.format(record=revision.iri, number=revision.number, entry=revision.sequence)
