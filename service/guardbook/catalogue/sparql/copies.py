"""Copies of a graph that questions are asked of, so that none of them can disturb the graph itself."""

from __future__ import annotations

import shutil
import tempfile
import threading
from collections import Counter
from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from pathlib import Path

from guardbook.errors import Busy
from guardbook.wording import _

_PATIENCE_SECONDS = 5


class Copies:
    """Makes a copy when one is asked for after a change, and removes the old one once nobody reads it.

    `make` writes a copy into a folder that is not there yet, `version` gives something that differs after
    every change. They are kept in `folder`, or (None) among the system's temporary files.
    """

    def __init__(
        self, folder: Path | None, make: Callable[[Path], None], version: Callable[[], Hashable]
    ) -> None:
        self._folder = folder
        self._make = make
        self._version = version
        self._lock = threading.Lock()
        self._place: Path | None = None
        self._made = 0
        self._newest: tuple[Hashable, Path] | None = None
        self._readers: Counter[Path] = Counter()

    @contextmanager
    def borrowed(self) -> Iterator[Path]:
        """Give the folder of an up-to-date copy, which stays while it is in use.

        Raises Busy for whoever else asks while making one takes long.
        """
        if not self._lock.acquire(timeout=_PATIENCE_SECONDS):
            raise Busy(message=_("What is asked is being brought up to date. Ask again in a little while."))
        try:
            copy = self._up_to_date()
            self._readers[copy] += 1
        finally:
            self._lock.release()
        try:
            yield copy
        finally:
            with self._lock:
                self._readers[copy] -= 1
                self._tidy()

    def _up_to_date(self) -> Path:
        version = self._version()
        if self._newest is None or self._newest[0] != version:
            self._made += 1
            copy = self._room() / str(self._made)
            try:
                self._make(copy)
            except BaseException:
                shutil.rmtree(copy, ignore_errors=True)
                raise
            self._readers[copy] += 0
            self._newest = (version, copy)
            self._tidy()
        return self._newest[1]

    def _room(self) -> Path:
        """Give the folder of the copies; what an earlier process left there is removed first."""
        if self._place is None:
            if self._folder:
                shutil.rmtree(self._folder, ignore_errors=True)
                self._folder.mkdir(parents=True)
            self._place = self._folder or Path(tempfile.mkdtemp(prefix="guardbook-"))
        return self._place

    def _tidy(self) -> None:
        newest = self._newest[1] if self._newest else None
        for copy in [found for found, readers in self._readers.items() if not readers and found != newest]:
            shutil.rmtree(copy, ignore_errors=True)
            del self._readers[copy]

    def close(self) -> None:
        """Remove all copies."""
        with self._lock:
            if self._place:
                shutil.rmtree(self._place, ignore_errors=True)
            self._place = self._newest = None
            self._readers.clear()
