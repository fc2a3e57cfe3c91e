"""Keeps a graph in step with the ledger: catches up, and makes it anew where it is lost or damaged."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import islice
from pathlib import Path
from typing import Protocol, TypeVar

from guardbook.catalogue.graph import UNMARKED, Graph, OxigraphGraph, Replacement
from guardbook.catalogue.ledger import HeadBody, Mark
from guardbook.errors import StorageFailed
from guardbook.records.mapping import parse_canonical
from guardbook.wording import _

_AT_ONCE = 200
_Found = TypeVar("_Found")


class Heads(Protocol):
    """What a graph is made from: records as they are now, in an order that newer ones are added to."""

    @property
    def sequence(self) -> int:
        """Give the number of the newest entry, 0 if there is none."""

    def newest(self) -> Mark:
        """Give the place it has come to."""

    def chain_at(self, sequence: int) -> str | None:
        """Give what tells this entry from one of another ledger, or None if there is none."""

    def heads_between(self, after: int, newest: int, at_most: int) -> list[HeadBody]:
        """Give records whose newest entry lies there, in the order of these."""


class Projection:
    """The graph of one ledger, in a folder or (None) in memory."""

    def __init__(self, ledger: Heads, folder: Path | None) -> None:
        self._ledger = ledger
        self._folder = folder
        self._lock = threading.RLock()
        self._graph: Graph | None = None
        self._applied = -1
        self.follow()

    def ask(self, question: Callable[[Graph], _Found]) -> _Found:
        """Ask the graph something, once it has caught up with the ledger.

        Raises StorageFailed where it can neither be read nor made anew.
        """
        graph = self._current()
        try:
            return question(graph)
        except OSError:
            self._set_aside()
            return question(self._current())

    def follow(self) -> bool:
        """Catch up with the ledger; say whether that worked, for what was saved is safe in any case."""
        try:
            self._current()
        except StorageFailed:
            return False
        return True

    def rebuild(self) -> int:
        """Throw the graph away and make it again from the ledger; give the number of records in it."""
        with self._lock:
            self._set_aside()
            self._remove()
            return len(self._current().names())

    def close(self) -> None:
        """Write out and let go of the store."""
        self._set_aside()

    def _set_aside(self) -> None:
        """Let go of the store; what it could not write out is in the ledger."""
        with self._lock:
            if self._graph:
                with suppress(OSError):
                    self._graph.close()
            self._graph = None
            self._applied = -1

    def _remove(self) -> None:
        if self._folder and self._folder.is_dir():
            shutil.rmtree(self._folder)
        elif self._folder:
            self._folder.unlink(missing_ok=True)

    def _current(self) -> Graph:
        graph = self._graph
        if graph and self._applied >= self._ledger.sequence:
            return graph
        with self._lock:
            try:
                return self._caught_up()
            except OSError:
                self._set_aside()
            try:
                self._remove()
                return self._caught_up()
            except OSError as error:
                self._set_aside()
                raise StorageFailed(
                    message=_(
                        "The graph cannot be written ({reason}). All records are safe in the ledger. "
                        "Make room on the disk; it is made again at the next question."
                    ).format(reason=error)
                ) from error

    def _caught_up(self) -> Graph:
        if self._graph is None:
            self._graph = OxigraphGraph(self._folder)
            mark = self._graph.mark()
            if mark is None or not self._is_ours(mark):
                self._set_aside()
                self._remove()
                self._graph = OxigraphGraph(self._folder)
                mark = UNMARKED
            self._applied = mark.sequence
        self._catch_up(self._graph)
        return self._graph

    def _is_ours(self, mark: Mark) -> bool:
        """A graph may come from another ledger, or from before a backup was put back."""
        return mark == UNMARKED or self._ledger.chain_at(mark.sequence) == mark.chain

    def _catch_up(self, graph: Graph) -> None:
        """Apply what came later: in bulk where there is nothing yet, else piece by piece, whole each time."""
        if self._applied == 0 and (newest := self._ledger.newest()).sequence:
            graph.fill(replacement for replacement, mark in self._later(newest.sequence))
            graph.replace((), newest)
            self._applied = newest.sequence
        later = self._later(self._ledger.sequence)
        while some := list(islice(later, _AT_ONCE)):
            mark = some[-1][1]
            graph.replace([replacement for replacement, _ in some], mark)
            self._applied = mark.sequence

    def _later(self, newest: int) -> Iterator[tuple[Replacement, Mark]]:
        """Give the heads after the last one applied, up to the newest, each with its place in the ledger."""
        reached = self._applied
        while reached < newest and (rows := self._ledger.heads_between(reached, newest, _AT_ONCE)):
            for row in rows:
                yield Replacement(row.iri, parse_canonical(row.body)), Mark(row.sequence, row.chain)
            reached = rows[-1].sequence
