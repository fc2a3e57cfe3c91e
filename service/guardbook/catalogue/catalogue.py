"""Open a catalogue: a folder with its ledger and its graph, or one in memory."""

from __future__ import annotations

from pathlib import Path
from types import TracebackType
from typing import Self

from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.datasets import Datasets
from guardbook.catalogue.ledger import Ledger
from guardbook.catalogue.one_owner import FolderLock
from guardbook.catalogue.projection import Projection
from guardbook.records.mapping import canonical

LEDGER_FILE = "ledger.sqlite"
GRAPH_FOLDER = "graph"


class Catalogue:
    """An open catalogue; close it, or use it in a `with` block."""

    def __init__(self, folder: Path | None) -> None:
        self._lock = FolderLock(folder) if folder else None
        try:
            self._ledger = Ledger(folder / LEDGER_FILE if folder else None)
        except BaseException:
            self._release()
            raise
        self._projection = Projection(self._ledger, folder / GRAPH_FOLDER if folder else None)
        self._datasets = Datasets(self._ledger, self._projection, self._public_body, folder)

    def access(self, viewer: Viewer = Viewer.WORKSHOP) -> Access:
        """Give one viewer's view of it."""
        return Access(self._ledger, self._projection, self._datasets, viewer)

    def _public_body(self, iri: str) -> str:
        public = self.access(Viewer.PUBLIC)
        return canonical(public.quads(iri)) if public.has(iri) else ""

    def close(self) -> None:
        """Write everything out and let other processes have the folder."""
        self._datasets.close()
        self._projection.close()
        self._ledger.close()
        self._release()

    def _release(self) -> None:
        if self._lock:
            self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def open_catalogue(folder: Path | None) -> Catalogue:
    """Open the catalogue in a folder, made if it is not there, or (None) an empty one in memory.

    Raises Busy if another process has it, StorageFailed if the folder cannot be used, WrongUse if it was
    begun with another base IRI.
    """
    return Catalogue(folder)
