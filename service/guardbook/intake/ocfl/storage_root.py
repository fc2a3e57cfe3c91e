"""A storage root: the folder of a whole archive, and the objects in it.

Source: OCFL 1.1, section 4 (OCFL Storage Root); the numbers such as E069 are those of its validation codes.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from guardbook.errors import Fault, UnreadableFile
from guardbook.intake.ocfl.checking import DECLARATION, StoredObject, faults_of_object, read_object

ROOT_DECLARED = "ocfl_1.1"
ROOT_DECLARATION = f"0={ROOT_DECLARED}"
EXTENSIONS = "extensions"


def is_storage_root(folder: Path) -> bool:
    """Say whether a folder declares itself to be one (E069, E076)."""
    return (folder / ROOT_DECLARATION).is_file()


def object_folders(folder: Path) -> Iterator[Path]:
    """Give the folders of all objects, in order."""
    for top, folders, files in os.walk(folder):
        if Path(top) == folder:
            folders[:] = [name for name in folders if name != EXTENSIONS]
        folders.sort()
        if DECLARATION in files:
            folders.clear()
            yield Path(top)


def checked_objects(folder: Path) -> list[StoredObject]:
    """Read all objects of a storage root, or the one object that a folder is.

    Raises UnreadableFile with everything that is wrong with any of them; then nothing is read. A folder that
    is neither is not searched.
    """
    if not is_storage_root(folder) and not (folder / DECLARATION).is_file():
        neither = f"{folder} is neither an archive (a folder with {ROOT_DECLARATION} in it, OCFL 1.1) nor an"
        raise UnreadableFile(message=f"{neither} object of one; a packet is imported as the ZIP file it is.")
    faults = [*_about_root(folder)] if is_storage_root(folder) else []
    found = list(object_folders(folder))
    faults += [fault for one in found for fault in faults_of_object(one)]
    if faults:
        raise UnreadableFile(message=f"{folder} was refused; nothing of it was kept.", faults=tuple(faults))
    return [read_object(one) for one in found]


def _about_root(folder: Path) -> Iterator[Fault]:
    if (folder / ROOT_DECLARATION).read_bytes() != f"{ROOT_DECLARED}\n".encode():
        where = f"{folder.name}, {ROOT_DECLARATION}"
        yield Fault(where=where, found="something else", expected=f"{ROOT_DECLARED} and a line end (E080)")
    objects = set(object_folders(folder))
    for top, folders, files in os.walk(folder):
        here = Path(top)
        if here == folder:
            folders[:] = [name for name in folders if name != EXTENSIONS]
        elif here in objects:
            folders.clear()
        elif files:
            where = f"{folder.name}, {(here / files[0]).relative_to(folder).as_posix()}"
            yield Fault(where=where, found="a file", expected="only objects in these folders (E072, E084)")
        elif not folders:
            where = f"{folder.name}, {here.relative_to(folder).as_posix()}"
            yield Fault(where=where, found="an empty folder", expected="an object (E073, E085)")
