"""One process owns a data folder: two would lose each other's changes in the graph."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import BinaryIO

from guardbook.errors import Busy, StorageFailed
from guardbook.wording import _

# Past anything written in the file, so that another process can still read who holds it.
_LOCKED_BYTE = 1 << 20


class FolderLock:
    """Holds a data folder for this process until released or until the process ends, however it ends."""

    def __init__(self, folder: Path) -> None:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self._file: BinaryIO = _open(folder / "in-use")
        except OSError as error:
            raise StorageFailed(
                message=_(
                    "The data folder {folder} cannot be used ({reason}). "
                    "Check that it exists, is yours and is not read-only."
                ).format(folder=folder, reason=error.strerror)
            ) from error
        try:
            _lock(self._file)
        except OSError as error:
            holder = self._file.read(32).decode("ascii", "replace").strip()
            self._file.close()
            raise Busy(
                message=_(
                    "The catalogue in {folder} is in use by another Guardbook (process {process}). "
                    "Close that one (for instance a running server), or ask it through its pages or its API."
                ).format(folder=folder, process=holder or _("unknown")),
                details={"folder": str(folder), "process": holder or "unknown"},
            ) from error
        self._file.truncate(0)
        self._file.write(str(os.getpid()).encode("ascii"))
        self._file.flush()

    def release(self) -> None:
        """Let another process have the folder."""
        self._file.close()


def _open(path: Path) -> BinaryIO:
    """Open without shortening: the file may be another process's."""
    return os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT, 0o644), "r+b")


if sys.platform == "win32":
    import msvcrt

    def _lock(file: BinaryIO) -> None:
        file.seek(_LOCKED_BYTE)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        finally:
            file.seek(0)
else:
    import fcntl

    def _lock(file: BinaryIO) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
