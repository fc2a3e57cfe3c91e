"""Open the catalogue for one viewer."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from guardbook import settings
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue


@contextmanager
def opened(viewer: Viewer = Viewer.WORKSHOP, folder: Path | None = None) -> Iterator[Access]:
    """Give one viewer's view of the catalogue in a folder (None: the data folder of the settings).

    Raises Busy if another process has it, StorageFailed if the folder cannot be used.
    """
    with open_catalogue(folder or settings.current().data) as catalogue:
        yield catalogue.access(viewer)


@contextmanager
def opened_for_all(folder: Path | None = None) -> Iterator[Callable[[Viewer], Access]]:
    """Give what gives each viewer's view of the catalogue, for a server that answers several.

    Raises as `opened`.
    """
    with open_catalogue(folder or settings.current().data) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        yield views.__getitem__
