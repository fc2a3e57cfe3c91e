"""The ledger: every revision of every record, in order, never changed (SQLite, flushed at each commit)."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from guardbook import settings
from guardbook.catalogue import activities, chain, indexing, workshop_numbers
from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.connections import Connections
from guardbook.catalogue.revisions import Revision
from guardbook.errors import WrongUse
from guardbook.records.base import Record
from guardbook.records.mapping import from_quads, parse_canonical
from guardbook.wording import _

_SCHEMA = (Path(__file__).parent / "schema.sql").read_text(encoding="utf-8")
_SCHEMA_VERSION = "1"

_HISTORY = "SELECT * FROM revisions WHERE iri = ? ORDER BY number"
_LIVING = "SELECT iri FROM heads WHERE NOT tombstone AND (public OR NOT :audience)"
_TAKEN_OUT = "SELECT iri FROM heads WHERE tombstone AND (public OR NOT :audience) ORDER BY id"
_ADD = """
    INSERT INTO revisions
        (sequence, iri, number, body, moment, who, what_for, sha256, previous, chain, tombstone)
    VALUES
        (:sequence, :iri, :number, :body, :moment, :who, :what_for, :sha256, :previous, :chain, :tombstone)
"""
_HEAD = """
    SELECT heads.id, heads.iri, kind, heads.number, heads.sequence, heads.tombstone, public,
           moment, who, what_for, sha256, previous
    FROM heads JOIN revisions USING (sequence) WHERE heads.iri = ?
"""
_LAST = "SELECT sequence, chain FROM revisions ORDER BY sequence DESC LIMIT 1"
_HEADS_BETWEEN = """
    SELECT iri, sequence, chain, body FROM heads JOIN revisions USING (sequence, iri)
    WHERE sequence > ? AND sequence <= ? ORDER BY sequence LIMIT ?
"""


class Mark(NamedTuple):
    """A place in the ledger: the sequence of an entry, and its chain hash."""

    sequence: int
    chain: str


class HeadBody(NamedTuple):
    """The canonical form of the newest revision of a record (empty: taken out), and its place."""

    iri: str
    sequence: int
    chain: str
    body: str


@dataclass(frozen=True)
class Head:
    """The newest revision of a record, and whether the public may see it."""

    id: int
    kind: str
    public: bool
    revision: Revision


@dataclass(frozen=True)
class Entry:
    """What is to be added: a record with its canonical form, or None and nothing for a tombstone."""

    iri: str
    number: int
    record: Record | None
    body: str
    sha256: str


class Ledger:
    """One ledger, in a file or (None) in memory."""

    def __init__(self, file: Path | None) -> None:
        self.connections = Connections(file)
        try:
            with self.connections.writing() as connection:
                new_tables(connection)
                _hold_to(connection, "schema", _SCHEMA_VERSION)
                if _last(connection)[0] == 0:
                    # a catalogue begins with its first record: whatever looked in before has chosen nothing
                    connection.execute("DELETE FROM facts WHERE name = 'base'")
                _hold_to(connection, "base", settings.current().base)
        except BaseException:
            self.close()
            raise
        self._parsed = lru_cache(maxsize=2048)(self._parse)

    def close(self) -> None:
        """Close the file."""
        self.connections.close()

    @property
    def sequence(self) -> int:
        """Give the sequence of the newest entry, 0 if there is none."""
        with self.connections.reading() as connection:
            return _last(connection)[0]

    def newest(self) -> Mark:
        """Give the place the ledger has come to."""
        with self.connections.reading() as connection:
            return Mark(*_last(connection))

    def chain_at(self, sequence: int) -> str | None:
        """Give the chain hash of an entry, or None if there is none."""
        with self.connections.reading() as connection:
            row = connection.execute("SELECT chain FROM revisions WHERE sequence = ?", (sequence,)).fetchone()
            return str(row["chain"]) if row else None

    def heads_between(self, after: int, newest: int, at_most: int) -> list[HeadBody]:
        """Give heads with their bodies in the order of the ledger."""
        with self.connections.reading() as connection:
            return [HeadBody(*row) for row in connection.execute(_HEADS_BETWEEN, (after, newest, at_most))]

    def head(self, iri: str) -> Head | None:
        """Give the newest revision of a record, or None if there never was one."""
        with self.connections.reading() as connection:
            return head_in(connection, iri)

    def history(self, iri: str) -> tuple[Revision, ...]:
        """Give all revisions of a record, the oldest first."""
        with self.connections.reading() as connection:
            return tuple(revision_of(row) for row in connection.execute(_HISTORY, (iri,)))

    def living(self, kind: str | None, audience: Audience) -> list[str]:
        """Give the IRIs of the records this audience may see, of one kind or all, as they came in."""
        question = _LIVING + (" AND kind = :kind" if kind else "") + " ORDER BY id"
        with self.connections.reading() as connection:
            rows = connection.execute(question, {"audience": int(audience), "kind": kind})
            return [row["iri"] for row in rows]

    def taken_out(self, audience: Audience) -> list[str]:
        """Give the IRIs of the records that were taken out, of which this audience may know."""
        with self.connections.reading() as connection:
            return [row["iri"] for row in connection.execute(_TAKEN_OUT, {"audience": int(audience)})]

    def record(self, sequence: int) -> Record:
        """Give the record of an entry that is no tombstone."""
        return self._parsed(sequence)

    def body(self, sequence: int) -> str:
        """Give the canonical N-Quads of an entry, exactly as saved."""
        with self.connections.reading() as connection:
            return body_in(connection, sequence)

    def _parse(self, sequence: int) -> Record:
        with self.connections.reading() as connection:
            return record_in(connection, sequence)

    def add(
        self, connection: sqlite3.Connection, entries: Sequence[Entry], *, who: str, what_for: str
    ) -> tuple[Revision, ...]:
        """Add entries within a transaction, with everything that is made from them.

        Raises InvalidRecord if two records then have one workshop number.
        """
        added = {rev: entry.record for rev, entry in _linked(connection, entries, who, what_for)}
        seen = indexing.update(connection, added, living_reader(connection, connection))
        activities.note(connection, seen)
        workshop_numbers.check(connection, [entry.record for entry in entries if entry.record])
        return tuple(added)


def living_reader(target: sqlite3.Connection, source: sqlite3.Connection) -> Callable[[int], Record | None]:
    """Give what reads the living record of a head of `target` from the ledger as `source` sees it."""

    def read(head: int) -> Record | None:
        row = target.execute("SELECT sequence, tombstone FROM heads WHERE id = ?", (head,)).fetchone()
        return None if row["tombstone"] else record_in(source, row["sequence"])

    return read


def _linked(
    connection: sqlite3.Connection, entries: Iterable[Entry], who: str, what_for: str
) -> Iterator[tuple[Revision, Entry]]:
    sequence, previous = _last(connection)
    moment = datetime.now(UTC)
    for entry in entries:
        sequence += 1
        said: dict[str, Any] = {
            "sequence": sequence,
            "iri": entry.iri,
            "number": entry.number,
            "who": who,
            "what_for": what_for,
            "sha256": entry.sha256,
            "previous": previous,
            "tombstone": entry.record is None,
        }
        own = chain.link(when=moment.isoformat(), **said)
        connection.execute(_ADD, {**said, "body": entry.body, "moment": moment.isoformat(), "chain": own})
        yield Revision(when=moment, **said), entry
        previous = own


def _last(connection: sqlite3.Connection) -> tuple[int, str]:
    row = connection.execute(_LAST).fetchone()
    return (row["sequence"], row["chain"]) if row else (0, chain.START)


def new_tables(connection: sqlite3.Connection) -> None:
    """Make the tables that are not there yet, in the open transaction (`executescript` would end it)."""
    statement = ""
    for line in _SCHEMA.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            connection.execute(statement)
            statement = ""


def _hold_to(connection: sqlite3.Connection, name: str, value: str) -> None:
    connection.execute("INSERT OR IGNORE INTO facts (name, value) VALUES (?, ?)", (name, value))
    kept = connection.execute("SELECT value FROM facts WHERE name = ?", (name,)).fetchone()["value"]
    if kept != value:
        told = (
            _(
                "This catalogue was begun with the base {kept}, now it is {now}. Set GUARDBOOK_BASE to it, "
                "or use another data folder."
            )
            if name == "base"
            else _("This catalogue was begun with the schema {kept}, now it is {now}. Use that one.")
        )
        raise WrongUse(message=told.format(kept=kept, now=value))


def revision_of(row: sqlite3.Row) -> Revision:
    """Give the revision that a row of the ledger holds."""
    return Revision(
        iri=row["iri"],
        number=row["number"],
        sequence=row["sequence"],
        when=datetime.fromisoformat(row["moment"]),
        who=row["who"],
        what_for=row["what_for"],
        sha256=row["sha256"],
        previous=row["previous"],
        tombstone=bool(row["tombstone"]),
    )


def head_in(connection: sqlite3.Connection, iri: str) -> Head | None:
    """Give the newest revision of a record as this connection sees it."""
    row = connection.execute(_HEAD, (iri,)).fetchone()
    return Head(row["id"], row["kind"], bool(row["public"]), revision_of(row)) if row else None


def body_in(connection: sqlite3.Connection, sequence: int) -> str:
    """Give the canonical N-Quads of an entry as this connection sees it."""
    row = connection.execute("SELECT body FROM revisions WHERE sequence = ?", (sequence,)).fetchone()
    return str(row["body"])


def record_in(connection: sqlite3.Connection, sequence: int) -> Record:
    """Give the record of an entry that is no tombstone, as this connection sees it."""
    return from_quads(parse_canonical(body_in(connection, sequence)))
