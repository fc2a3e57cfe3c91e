"""What came into sight, changed or went, in order: for the workshop by the ledger, for the public by a table.

What the public sees of a record hangs on others too (an owner who withdraws consent, a volume that becomes
private), so that it is noted in the commit that changes it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from guardbook.catalogue.audiences import Audience

_LAST_TOLD = """
    SELECT heads.iri, sha256 FROM heads LEFT JOIN activities ON activities.number = (
        SELECT max(number) FROM activities AS of_it WHERE of_it.iri = heads.iri
    ) WHERE heads.id = ?
"""
_ADD = "INSERT INTO activities (iri, activity, moment, sha256) VALUES (?, ?, ?, ?)"

_OF_LEDGER = """
    SELECT now.sequence AS number, now.iri, now.moment, CASE
        WHEN now.tombstone THEN 'Delete' WHEN coalesce(before.tombstone, 1) THEN 'Create' ELSE 'Update'
    END AS activity
    FROM revisions AS now LEFT JOIN revisions AS before
        ON before.iri = now.iri AND before.number = now.number - 1
"""
_TOLD = "SELECT number, iri, moment, activity FROM activities"
_ACTIVITIES = {Audience.WORKSHOP: _OF_LEDGER, Audience.PUBLIC: _TOLD}
_LIVING = {
    Audience.WORKSHOP: """
        SELECT iri, moment FROM heads JOIN revisions USING (sequence, iri) WHERE NOT heads.tombstone
    """,
    Audience.PUBLIC: """
        SELECT iri, moment, activity, max(number) FROM activities GROUP BY iri HAVING activity != 'Delete'
    """,
}
_COUNT = {
    Audience.WORKSHOP: "SELECT coalesce(max(sequence), 0) FROM revisions",
    Audience.PUBLIC: "SELECT coalesce(max(number), 0) FROM activities",
}


@dataclass(frozen=True)
class Activity:
    """One thing that happened to a record: `activity` is Create, Update or Delete (ActivityStreams 2.0)."""

    number: int
    iri: str
    activity: str
    when: datetime


def note(connection: sqlite3.Connection, seen: Mapping[int, str | None]) -> None:
    """Note what changed for the public: `seen` gives, by head, the hash of what it sees now, or None."""
    moment = datetime.now(UTC).isoformat()
    for head, now in sorted(seen.items()):
        iri, before = connection.execute(_LAST_TOLD, (head,)).fetchone()
        if now != before:
            activity = "Create" if before is None else "Update" if now else "Delete"
            connection.execute(_ADD, (iri, activity, moment, now))


def newest(connection: sqlite3.Connection, audience: Audience) -> int:
    """Give the number of the newest activity, which is how many there are."""
    return int(connection.execute(_COUNT[audience]).fetchone()[0])


def between(connection: sqlite3.Connection, audience: Audience, after: int, to: int) -> tuple[Activity, ...]:
    """Give the activities after one number up to another, in order."""
    question = f"SELECT * FROM ({_ACTIVITIES[audience]}) WHERE number > ? AND number <= ? ORDER BY number"  # noqa: S608  # our own
    return tuple(_activity(row) for row in connection.execute(question, (after, to)))


def last_of(connection: sqlite3.Connection, audience: Audience, iri: str) -> Activity | None:
    """Give the newest activity of a record, or None."""
    question = f"SELECT * FROM ({_ACTIVITIES[audience]}) WHERE iri = ? ORDER BY number DESC LIMIT 1"  # noqa: S608  # our own
    row = connection.execute(question, (iri,)).fetchone()
    return _activity(row) if row else None


def living(connection: sqlite3.Connection, audience: Audience) -> Iterator[tuple[str, datetime]]:
    """Give each record that is in sight with the moment it last changed there."""
    rows = connection.execute(_LIVING[audience]).fetchall()
    return ((row["iri"], datetime.fromisoformat(row["moment"])) for row in rows)


def _activity(row: sqlite3.Row) -> Activity:
    return Activity(row["number"], row["iri"], row["activity"], datetime.fromisoformat(row["moment"]))
