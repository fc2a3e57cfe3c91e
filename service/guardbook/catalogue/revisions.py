"""What goes into the catalogue and what comes out: a change, a revision, a record as it is kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from guardbook.records.base import Record


@dataclass(frozen=True)
class Change:
    """A record to be kept, and the number of the revision it started from (None: it is new)."""

    record: Record
    started_from: int | None = None


@dataclass(frozen=True)
class Revision:
    """One entry of the ledger.

    `number` counts the revisions of one record from 1, `sequence` those of the whole ledger; `sha256` is of
    the canonical form (RDFC-1.0), `previous` the chain hash of the entry before. A tombstone says that the
    record was taken out, and `what_for` why. The public is given neither hashes nor the workshop's own words.
    """

    iri: str
    number: int
    sequence: int
    when: datetime
    who: str
    what_for: str
    sha256: str
    previous: str
    tombstone: bool


@dataclass(frozen=True)
class Kept:
    """A record as it is kept: its revision, and when and by whom that was saved."""

    record: Record
    revision: int
    when: datetime
    who: str
