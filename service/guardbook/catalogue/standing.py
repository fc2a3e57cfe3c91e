"""How pieces and volumes stand, as worked out above this floor from several records: kept to search by.

Where a piece is now hangs on all that happened to it, and what is missing from a record on its pictures and
events too. So whatever hangs on a changed record is put on a list, worked out again when there is time, and
taken off the list, unless it was put there anew meanwhile. Each audience has a list and rows of its own,
worked out from what it may see. All of it can be thrown away: it is then worked out anew.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.connections import Connections
from guardbook.catalogue.ledger import record_in
from guardbook.catalogue.references import references_of

# the names that these rows may have; the keeper is where a piece is now, beside what its record says
STANDING = ("completeFor", "hasImage", "keeper", "whereNow")
# what the overview of the workshop is made of; nobody searches by it
BENCH = ("benchPlanned", "benchNeverAgain", "benchContradictions", "benchPlaceUnknown", "benchAway")

_ALL = """
    INSERT OR REPLACE INTO unsettled (iri, audience, sequence)
    SELECT iri, :audience, :newest FROM heads WHERE kind IN ('fragment', 'host')
"""
_CHANGED = "SELECT iri, max(number) AS number FROM revisions WHERE sequence > :done GROUP BY iri"
# what changed, what it names and what names it, and what these name in turn: pieces hang on their volume's
# record by way of the events that name both
_THAT_HANG_ON = """
    WITH changed (iri) AS (SELECT value FROM json_each(:changed)),
    near (id) AS (
        SELECT id FROM heads JOIN changed USING (iri)
        UNION SELECT named.id FROM named JOIN changed ON named.target = changed.iri
    )
    INSERT OR REPLACE INTO unsettled (iri, audience, sequence)
    SELECT heads.iri, :audience, :newest FROM heads WHERE kind IN ('fragment', 'host') AND iri IN (
        SELECT iri FROM changed
        UNION SELECT heads.iri FROM near JOIN heads USING (id)
        UNION SELECT target FROM named JOIN near USING (id)
    )
"""
_NEXT = "SELECT iri, sequence FROM unsettled WHERE audience = ? ORDER BY sequence DESC, iri LIMIT ?"
_OF_NAME = "SELECT subject, value FROM standings WHERE audience = ? AND name = ? ORDER BY value, subject"
_TAKE_OFF = "DELETE FROM unsettled WHERE iri = ? AND audience = ? AND sequence <= ?"
_PUT_FACT = (
    "INSERT INTO facts (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
)


@dataclass(frozen=True)
class Unsettled:
    """A piece or volume to be looked at again, and the entry of the ledger that it was listed for."""

    iri: str
    sequence: int


def unsettled(connections: Connections, audience: Audience, rules: str, at_most: int) -> list[Unsettled]:
    """Give some of what is to be looked at again, what was saved last first, since somebody waits for it.

    `rules` stands for whatever the rows are worked out by beside the records; where it is new, that is all.
    """
    with connections.reading() as connection:
        is_listed = _state(connection, audience) == _wanted_state(connection, rules)
    if not is_listed:
        with connections.writing() as connection:
            _list(connection, audience, rules)
    with connections.reading() as connection:
        return [
            Unsettled(row["iri"], row["sequence"]) for row in connection.execute(_NEXT, (audience, at_most))
        ]


def settle(
    connections: Connections,
    audience: Audience,
    found: Sequence[tuple[Unsettled, Collection[tuple[str, str]]]],
) -> int:
    """Keep what was worked out, as names and values, and take it off the list; give how many are left."""
    if not found:
        return 0
    with connections.writing() as connection:
        for one, rows in found:
            own = (one.iri, int(audience))
            connection.execute("DELETE FROM standings WHERE subject = ? AND audience = ?", own)
            connection.executemany(
                "INSERT INTO standings (subject, audience, name, value) VALUES (?, ?, ?, ?)",
                [(*own, name, value) for name, value in sorted(rows)],
            )
            connection.execute(_TAKE_OFF, (*own, one.sequence))
        return count_unsettled(connection, audience)


def standings(connections: Connections, audience: Audience, name: str) -> list[tuple[str, str]]:
    """Give all subjects that have a row of this name, each with its value, in the order of the values."""
    with connections.reading() as connection:
        return [(row["subject"], row["value"]) for row in connection.execute(_OF_NAME, (audience, name))]


def count_unsettled(connection: sqlite3.Connection, audience: Audience) -> int:
    """Count what is to be looked at again."""
    question = "SELECT count(*) FROM unsettled WHERE audience = ?"
    return int(connection.execute(question, (audience,)).fetchone()[0])


def forget(connection: sqlite3.Connection) -> None:
    """Throw everything away, to have it worked out anew."""
    for statement in ("DELETE FROM standings", "DELETE FROM unsettled"):
        connection.execute(statement)
    connection.executemany("DELETE FROM facts WHERE name = ?", [(_fact(audience),) for audience in Audience])


def _fact(audience: Audience) -> str:
    return f"standing of {audience.name.lower()}"


def _state(connection: sqlite3.Connection, audience: Audience) -> str | None:
    row = connection.execute("SELECT value FROM facts WHERE name = ?", (_fact(audience),)).fetchone()
    return row["value"] if row else None


def _wanted_state(connection: sqlite3.Connection, rules: str) -> str:
    newest = connection.execute("SELECT coalesce(max(sequence), 0) FROM revisions").fetchone()[0]
    return json.dumps([newest, rules])


def _list(connection: sqlite3.Connection, audience: Audience, rules: str) -> None:
    """Put on the list what hangs on the entries since the last time; all, where the rules are others now."""
    before, now = _state(connection, audience), _wanted_state(connection, rules)
    done, known_rules = json.loads(before) if before else (0, None)
    asked = {"audience": int(audience), "newest": json.loads(now)[0]}
    if known_rules != rules:
        connection.execute(_ALL, asked)
    else:
        changed = json.dumps(sorted(_changed_since(connection, done)))
        connection.execute(_THAT_HANG_ON, {**asked, "changed": changed})
    connection.execute(_PUT_FACT, (_fact(audience), now))


def _changed_since(connection: sqlite3.Connection, done: int) -> set[str]:
    """Give what changed, and what an older revision named that the newest may not name any more."""
    changed = set()
    for row in connection.execute(_CHANGED, {"done": done}).fetchall():
        changed.add(row["iri"])
        older = connection.execute(
            "SELECT sequence FROM revisions WHERE iri = ? AND number = ? AND NOT tombstone",
            (row["iri"], row["number"] - 1),
        ).fetchone()
        if older:
            changed |= {named.target for named in references_of(record_in(connection, older["sequence"]))}
    return changed
