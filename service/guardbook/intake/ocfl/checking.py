"""One object of an archive, read and checked whole: nothing is missing, nothing strange, nothing changed.

Source: OCFL 1.1, section 3; the numbers such as E092 are those of its validation codes.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from pydantic import ValidationError

from guardbook.errors import Fault
from guardbook.intake.ocfl.inventory import DECLARED, INVENTORY, Inventory, inventory_from

DECLARATION = f"0={DECLARED}"
_AGAIN = "The archive was damaged or changed: take it from another copy."
_BESIDE = {"logs", "extensions"}


@dataclass(frozen=True)
class StoredObject:
    """An object of an archive: where it lies, and its inventory."""

    folder: Path
    inventory: Inventory

    @property
    def files(self) -> dict[str, str]:
        """Give the digest of each file of its newest version, by its logical path."""
        return self.inventory.versions[self.inventory.head].files

    def opened(self, path: str) -> BinaryIO:
        """Open a file of the newest version. Raises KeyError where there is none."""
        content = self.inventory.manifest[self.files[path]][0]
        return (self.folder / content).open("rb")


def read_object(folder: Path) -> StoredObject:
    """Read an object without looking at its content. Raises ValidationError, OSError."""
    return StoredObject(folder, inventory_from((folder / INVENTORY).read_bytes()))


def faults_of_object(folder: Path) -> Iterator[Fault]:
    """Give everything that is wrong with an object."""
    try:
        found = read_object(folder)
    except ValidationError as error:
        for one in error.errors():
            where = ".".join(map(str, one["loc"]))
            yield _fault(
                folder, f"{INVENTORY} {where}".rstrip(), one["msg"], "as OCFL 1.1 has it (E033-E111)"
            )
        return
    except OSError as error:
        yield _fault(folder, INVENTORY, str(error.strerror), "an inventory (E063)")
        return
    yield from _about_declaration(folder)
    yield from _about_inventories(found)
    yield from _about_what_lies_there(found)
    yield from _about_content(found)


def _about_declaration(folder: Path) -> Iterator[Fault]:
    declared = _text(folder / DECLARATION)
    if declared != f"{DECLARED}\n":
        yield _fault(folder, DECLARATION, repr(declared), f"{DECLARED} and a line end (E003, E007)")


def _about_inventories(found: StoredObject) -> Iterator[Fault]:
    """Check each inventory against its digest, and those of older versions against the newest."""
    algorithm = found.inventory.digest_algorithm
    newest = (found.folder / INVENTORY).read_bytes()
    for where in ("", *(f"{name}/" for name, _ in found.inventory.in_order())):
        path = found.folder / where / INVENTORY
        if where and not path.is_file():
            continue
        data = path.read_bytes()
        stated = re.fullmatch(r"([0-9a-fA-F]+)\s+inventory\.json\s*", _text(Path(f"{path}.{algorithm}")))
        if not stated or stated[1].lower() != hashlib.new(algorithm, data).hexdigest():
            yield _fault(found.folder, f"{where}{INVENTORY}", "another digest", "the stated one (E060)")
        elif where == f"{found.inventory.head}/" and data != newest:
            yield _fault(found.folder, f"{where}{INVENTORY}", "another one", "that of the object (E064)")
        elif where:
            yield from _older(found, where, data)


def _older(found: StoredObject, where: str, data: bytes) -> Iterator[Fault]:
    try:
        versions = inventory_from(data).versions
    except ValidationError:
        yield _fault(found.folder, f"{where}{INVENTORY}", "something else", "an inventory (E033)")
        return
    for name, version in versions.items():
        now = found.inventory.versions.get(name)
        if now is None or now.files != version.files:
            yield _fault(found.folder, f"{where}{INVENTORY} {name}", "other files", "those it has now (E066)")


def _about_what_lies_there(found: StoredObject) -> Iterator[Fault]:
    """Look for what does not belong: E001, E015, E023, E024, E090."""
    inventory, folder = found.inventory, found.folder
    sidecar = f"{INVENTORY}.{inventory.digest_algorithm}"
    own = {DECLARATION, INVENTORY, sidecar, *inventory.content_paths}
    own |= {f"{name}/{file}" for name in inventory.versions for file in (INVENTORY, sidecar)}
    for top, folders, files in os.walk(folder):
        here = Path(top).relative_to(folder)
        if str(here) == ".":
            folders[:] = [name for name in folders if name not in _BESIDE]
        links = [name for name in (*folders, *files) if (Path(top) / name).is_symlink()]
        strange = [name for name in files if (here / name).as_posix() not in own]
        for name in (*links, *strange):
            yield _fault(folder, (here / name).as_posix(), "this", "only what is listed (E001, E023, E090)")
        if not folders and not files:
            yield _fault(folder, here.as_posix(), "an empty folder", "none (E024)")


def _about_content(found: StoredObject) -> Iterator[Fault]:
    for digest, paths in found.inventory.manifest.items():
        for path in paths:
            place = found.folder / path
            if place.is_symlink() or not place.is_file():
                yield _fault(found.folder, path, "nothing", "the file that is listed (E092)")
            elif (told := _digest(place, found.inventory.digest_algorithm)) != digest:
                yield _fault(found.folder, path, told, f"{found.inventory.digest_algorithm} {digest} (E092)")


def _digest(path: Path, algorithm: str) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, algorithm).hexdigest()


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""


def _fault(folder: Path, path: str, found: str, expected: str) -> Fault:
    return Fault(where=f"{folder.name}, {path}", found=found, expected=expected, mend=_AGAIN)
