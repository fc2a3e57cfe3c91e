"""Where records of other catalogues are kept: a file of their own beside the ledger, which is not theirs."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from guardbook.catalogue.connections import Connections
from guardbook.catalogue.folding import words
from guardbook.catalogue.harvested.foreign import ForeignRecord

_SCHEMA = (Path(__file__).parent / "schema.sql").read_text(encoding="utf-8")
_ORIGINS = """
    SELECT origins.*, (SELECT count(*) FROM records WHERE origin = origins.id AND NOT gone) AS records,
           (SELECT count(*) FROM damaged WHERE origin = origins.id) AS damaged
    FROM origins WHERE shown OR NOT :public ORDER BY title, id
"""
_RECORD = """
    SELECT records.*, feed, origins.title AS origin_title, origins.licence AS origin_licence
    FROM records JOIN origins ON origins.id = records.origin WHERE (shown OR NOT :public)
"""
_FOUND = """
    AND NOT gone AND records.id IN (SELECT rowid FROM texts WHERE texts MATCH :words)
    ORDER BY (SELECT bm25(texts, 4.0, 1.0) FROM texts WHERE texts MATCH :words AND rowid = records.id)
    LIMIT :limit
"""
_BURY = """
    UPDATE records SET gone = 1, body = '', etag = NULL, changed = ?, fetched = ? WHERE iri = ? AND origin = ?
"""
_PUT_ORIGIN = """
    INSERT INTO origins
        (feed, title, space, licence, shown, first_read, last_read, mark_id, mark_time, problem)
    VALUES (:feed, :title, :space, :licence, :shown, :now, :now, '', '', '')
    ON CONFLICT (feed) DO UPDATE SET title = :title, licence = :licence, shown = :shown
"""
_PUT_RECORD = """
    INSERT INTO records (iri, origin, kind, title, body, licence, source, etag, changed, fetched, gone)
    VALUES (:iri, :origin, :kind, :title, :body, :licence, :source, :etag, :changed, :now, 0)
    ON CONFLICT (iri) DO UPDATE SET kind = :kind, title = :title, body = :body, licence = :licence,
        source = :source, etag = :etag, changed = :changed, fetched = :now, gone = 0
    WHERE origin = :origin
"""


@dataclass(frozen=True, kw_only=True)
class Origin:
    """Another catalogue that is followed, and how that went the last time; `space` begins all its IRIs."""

    number: int
    feed: str
    title: str
    space: str
    licence: str | None
    shown: bool
    first_read: datetime
    last_read: datetime
    mark_id: str
    mark_time: str
    problem: str
    records: int
    damaged: int


@dataclass(frozen=True, kw_only=True)
class Foreign:
    """A record of another catalogue: `source` is the document it was read from, `changed` when, as told."""

    iri: str
    kind: str
    title: str
    body: str
    licence: str | None
    source: str
    etag: str | None
    changed: str
    fetched: datetime
    gone: bool
    feed: str
    origin_title: str


@dataclass(frozen=True, kw_only=True)
class Taken:
    """What came of one activity: a record, or that it is gone (None), or why it was not taken."""

    iri: str
    source: str
    changed: str
    record: ForeignRecord | None = None
    etag: str | None = None
    problem: str = ""
    is_same: bool = False


class HarvestedStore:
    """The file, made when something is harvested; in memory where the catalogue is."""

    def __init__(self, file: Path | None) -> None:
        self._file = file
        self._lock = threading.Lock()
        self._opened: Connections | None = None
        self.changes = 0

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection | None]:
        """Give a connection, or None where nothing was ever harvested."""
        if self._opened is None and (self._file is None or not self._file.exists()):
            yield None
            return
        with self._connections().reading() as connection:
            yield connection

    def _connections(self) -> Connections:
        with self._lock:
            if self._opened is None:
                self._opened = Connections(self._file)
                with self._opened.writing() as connection:
                    for statement in _statements():
                        connection.execute(statement)
            return self._opened

    def origins(self, *, public: bool) -> tuple[Origin, ...]:
        """Give the catalogues that are followed."""
        with self._reading() as connection:
            rows = connection.execute(_ORIGINS, {"public": public}).fetchall() if connection else []
        return tuple(_origin(row) for row in rows)

    def record(self, iri: str, *, public: bool) -> Foreign | None:
        """Give a record, also one that is gone, or None."""
        return next(iter(self._records("AND iri = :iri", {"iri": iri, "public": public})), None)

    def find(self, asked: str, *, public: bool, limit: int) -> tuple[Foreign, ...]:
        """Give the records in which each of these words begins a word, the best first."""
        beginnings = " ".join(f'"{word}"*' for word in words(asked))
        if not beginnings:
            return ()
        return self._records(_FOUND, {"words": beginnings, "public": public, "limit": limit})

    def living(self) -> tuple[Foreign, ...]:
        """Give all records that are not gone."""
        return self._records("AND NOT gone ORDER BY records.id", {"public": False})

    def _records(self, condition: str, values: dict[str, Any]) -> tuple[Foreign, ...]:
        with self._reading() as connection:
            rows = connection.execute(_RECORD + condition, values).fetchall() if connection else []
        return tuple(_foreign(row) for row in rows)

    def damaged(self, origin: int) -> tuple[Taken, ...]:
        """Give what could not be taken from a catalogue, and why."""
        with self._reading() as connection:
            question = "SELECT iri, source, changed, problem FROM damaged WHERE origin = ? ORDER BY iri"
            rows = connection.execute(question, (origin,)).fetchall() if connection else []
        return tuple(Taken(**dict(row)) for row in rows)

    def follow(self, feed: str, *, title: str, space: str, licence: str | None, shown: bool) -> Origin:
        """Begin to follow a catalogue, or note what it says of itself now."""
        said = {"feed": feed, "title": title, "space": space, "licence": licence, "shown": shown}
        with self._connections().writing() as connection:
            connection.execute(_PUT_ORIGIN, {**said, "now": _now()})
        self.changes += 1
        return next(origin for origin in self.origins(public=False) if origin.feed == feed)

    def keep(self, origin: int, taken: Sequence[Taken], mark_id: str | None, mark_time: str = "") -> None:
        """Keep what was taken, and how far the feed was followed with it (None: no further), all at once."""
        with self._connections().writing() as connection:
            for one in taken:
                _keep(connection, origin, one)
            if mark_id is not None:
                connection.execute(
                    "UPDATE origins SET mark_id = ?, mark_time = ? WHERE id = ?", (mark_id, mark_time, origin)
                )
        self.changes += 1

    def ended(self, origin: int, problem: str) -> None:
        """Note when a catalogue was last read, and why that ended early (or nothing)."""
        with self._connections().writing() as connection:
            question = "UPDATE origins SET last_read = ?, problem = ? WHERE id = ?"
            connection.execute(question, (_now(), problem, origin))

    def drop(self, origin: int) -> None:
        """Forget a catalogue with all its records."""
        with self._connections().writing() as connection:
            connection.execute(
                "DELETE FROM texts WHERE rowid IN (SELECT id FROM records WHERE origin = ?)", (origin,)
            )
            for table in ("records", "damaged"):
                connection.execute(f"DELETE FROM {table} WHERE origin = ?", (origin,))  # noqa: S608  # our own
            connection.execute("DELETE FROM origins WHERE id = ?", (origin,))
        self.changes += 1

    def close(self) -> None:
        """Close the file."""
        with self._lock:
            if self._opened:
                self._opened.close()
            self._opened = None


def _keep(connection: sqlite3.Connection, origin: int, one: Taken) -> None:
    connection.execute("DELETE FROM damaged WHERE origin = ? AND iri = ?", (origin, one.iri))
    if one.problem:
        values = (one.iri, origin, one.source, one.changed, one.problem)
        connection.execute("INSERT INTO damaged VALUES (?, ?, ?, ?, ?)", values)
    elif one.is_same:
        question = "UPDATE records SET changed = ?, fetched = ? WHERE iri = ? AND origin = ?"
        connection.execute(question, (one.changed, _now(), one.iri, origin))
    elif one.record is None:
        _bury(connection, origin, one)
    else:
        _put(connection, origin, one, one.record)


def _bury(connection: sqlite3.Connection, origin: int, one: Taken) -> None:
    connection.execute(_BURY, (one.changed, _now(), one.iri, origin))
    connection.execute(
        "DELETE FROM texts WHERE rowid IN (SELECT id FROM records WHERE iri = ? AND origin = ?)",
        (one.iri, origin),
    )


def _put(connection: sqlite3.Connection, origin: int, one: Taken, record: ForeignRecord) -> None:
    values = {**asdict(record), **asdict(one), "origin": origin, "now": _now()}
    connection.execute(_PUT_RECORD, {name: value for name, value in values.items() if name != "record"})
    question = "SELECT id FROM records WHERE iri = ? AND origin = ?"
    row = connection.execute(question, (record.iri, origin)).fetchone()
    connection.execute("DELETE FROM texts WHERE rowid = ?", (row["id"],))
    text = (row["id"], " ".join(words(record.title)), " ".join(words(record.words)))
    connection.execute("INSERT INTO texts (rowid, title, text) VALUES (?, ?, ?)", text)


def _statements() -> Iterable[str]:
    statement = ""
    for line in _SCHEMA.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _now() -> str:
    return datetime.now(UTC).isoformat()


def _origin(row: sqlite3.Row) -> Origin:
    said: dict[str, Any] = dict(row)
    for name in ("first_read", "last_read"):
        said[name] = datetime.fromisoformat(said[name])
    return Origin(number=said.pop("id"), shown=bool(said.pop("shown")), **said)


def _foreign(row: sqlite3.Row) -> Foreign:
    said: dict[str, Any] = dict(row)
    own, general = said.pop("licence"), said.pop("origin_licence")
    del said["id"], said["origin"]
    return Foreign(
        fetched=datetime.fromisoformat(said.pop("fetched")),
        gone=bool(said.pop("gone")),
        licence=own or general,
        **said,
    )
