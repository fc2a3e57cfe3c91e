"""Connections to the ledger's file: one that writes, some that read, and what SQLite's errors mean."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, LifoQueue

from guardbook.errors import StorageFailed
from guardbook.wording import _

_DURABLE = "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA recursive_triggers = ON;"
_READ_ONLY = "PRAGMA query_only = ON"


class Connections:
    """All connections to one ledger; with no file it is kept in memory, in one connection."""

    def __init__(self, file: Path | None) -> None:
        self._file = file
        self._lock = threading.RLock()
        self._idle: LifoQueue[sqlite3.Connection] = LifoQueue()
        self._writer = self._connect(_DURABLE)

    def _connect(self, pragmas: str) -> sqlite3.Connection:
        try:
            # Each connection is used by one thread at a time: see `writing` and `reading`.
            connection = sqlite3.connect(
                self._file or ":memory:", isolation_level=None, check_same_thread=False, timeout=30
            )
        except sqlite3.Error as error:
            raise storage_failed(error) from error
        connection.row_factory = sqlite3.Row
        try:
            connection.executescript(pragmas)
        except sqlite3.Error as error:
            connection.close()
            raise storage_failed(error) from error
        return connection

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Give the writing connection for one transaction: all of it is kept, or nothing.

        Raises StorageFailed when the disk does not take it.
        """
        with self._lock:
            try:
                self._writer.execute("BEGIN IMMEDIATE")
                yield self._writer
                self._writer.execute("COMMIT")
            except sqlite3.IntegrityError:
                raise  # a rule of the schema was broken: our mistake, not the disk's
            except sqlite3.Error as error:
                raise storage_failed(error) from error
            finally:
                if self._writer.in_transaction:
                    self._writer.execute("ROLLBACK")

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Give a connection that sees what is committed and can change nothing."""
        if self._file is None:
            with self._lock:
                yield self._writer
            return
        connection = self._reader()
        try:
            yield connection
        except sqlite3.Error as error:
            raise storage_failed(error) from error
        finally:
            self._idle.put(connection)

    def _reader(self) -> sqlite3.Connection:
        try:
            return self._idle.get_nowait()
        except Empty:
            return self._connect(_READ_ONLY)

    def close(self) -> None:
        """Close them all."""
        with self._lock:
            while not self._idle.empty():
                self._idle.get_nowait().close()
            self._writer.close()


def storage_failed(error: sqlite3.Error) -> StorageFailed:
    """Say in words what SQLite's error means for the person."""
    reason = str(error)
    if "full" in reason:
        told = _("Nothing was changed: {reason}. Make room on the disk and save again.")
    elif isinstance(error, sqlite3.DatabaseError) and ("malformed" in reason or "not a database" in reason):
        told = _("Nothing was changed: {reason}. Its file is damaged: put back the last backup.")
    else:
        told = _(
            "Nothing was changed: {reason}. Check that the disk has room, is connected and may be written "
            "to, and save again."
        )
    return StorageFailed(message=told.format(reason=reason), details={"reason": reason})
