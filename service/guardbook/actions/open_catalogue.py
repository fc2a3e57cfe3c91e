"""Open the catalogue for one viewer."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from guardbook import settings
from guardbook.actions.settle_standing import settle_standing
from guardbook.catalogue.access import Access, Viewer
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.errors import GuardbookError

LOOK_EVERY_SECONDS, PAUSE_SECONDS = 2.0, 0.02


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

    While it is open, how pieces and volumes stand is worked out in the background. Raises as `opened`.
    """
    with open_catalogue(folder or settings.current().data) as catalogue:
        views = {viewer: catalogue.access(viewer) for viewer in Viewer}
        with _settling(views.values()):
            yield views.__getitem__


@contextmanager
def _settling(views: Iterable[Access]) -> Iterator[None]:
    """Keep how records stand worked out, a little at a time, so that whoever asks is not held up."""
    over = threading.Event()

    def go_on() -> None:
        while not over.is_set():
            left = 0
            for access in views:
                with suppress(GuardbookError):  # such as a full disk, which whoever saves is told of
                    left += settle_standing(access, seconds=0)
            over.wait(PAUSE_SECONDS if left else LOOK_EVERY_SECONDS)

    thread = threading.Thread(target=go_on, name="settling", daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()
