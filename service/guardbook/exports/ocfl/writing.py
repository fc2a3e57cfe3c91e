"""Write an object, or add versions to one: what is there already is never written again.

Source: OCFL 1.1, section 3. A version is made aside and moved into its place; the inventory of the object
follows, and the digest of that last of all (section 3.6), so that what was cut short can be told.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from guardbook.intake.ocfl.checking import DECLARATION
from guardbook.intake.ocfl.inventory import CONTENT, DECLARED, INVENTORY, Inventory, User, Version

SIDECAR = f"{INVENTORY}.sha512"


@dataclass(frozen=True)
class Source:
    """A file to be kept: its SHA-512, and what opens it."""

    sha512: str
    opened: Callable[[], BinaryIO]


@dataclass(frozen=True, kw_only=True)
class NewVersion:
    """A version to be written: when it was made, what for and by whom, and its files by logical paths."""

    created: datetime
    message: str
    user: str
    address: str
    files: Mapping[str, Source]

    def as_version(self) -> Version:
        """Give it as an inventory has it."""
        state: dict[str, tuple[str, ...]] = {}
        for path, source in sorted(self.files.items()):
            state[source.sha512] = (*state.get(source.sha512, ()), path)
        user = User(name=self.user, address=self.address)
        return Version(created=self.created, message=self.message, user=user, state=state)


def write_object(folder: Path, identifier: str, versions: Sequence[NewVersion]) -> None:
    """Write a new object with its versions into a folder that is not there yet."""
    folder.mkdir(parents=True)
    (folder / DECLARATION).write_bytes(f"{DECLARED}\n".encode())
    add_versions(folder, identifier, None, versions, aside=folder)


def add_versions(
    folder: Path, identifier: str, before: Inventory | None, versions: Sequence[NewVersion], *, aside: Path
) -> None:
    """Add versions to an object; each is made in the folder `aside`, on the same disk."""
    inventory = before
    for version in versions:
        inventory = _with(identifier, inventory, version)
        made = aside / f"{inventory.head}.coming"
        _write_version(made, inventory, version, before.manifest if before else {})
        made.replace(folder / inventory.head)
        before = inventory
    if inventory:
        _write_inventory(folder, inventory)


def mended(folder: Path, inventory: Inventory) -> None:
    """Put right what a run that was cut short left behind: a version not yet listed, an old digest."""
    for place in folder.iterdir():
        if place.name.startswith("v") and place.name not in inventory.versions:
            shutil.rmtree(place)
    for name in (INVENTORY, SIDECAR):
        _half(folder / name).unlink(missing_ok=True)
    data = (folder / INVENTORY).read_bytes()
    if data == (folder / inventory.head / INVENTORY).read_bytes():
        _write_digest(folder, data)


def _with(identifier: str, before: Inventory | None, new: NewVersion) -> Inventory:
    """Give the inventory with one more version."""
    versions = dict(before.versions) if before else {}
    name = f"v{len(versions) + 1}"
    manifest = dict(before.manifest) if before else {}
    for path, source in sorted(new.files.items()):
        manifest.setdefault(source.sha512, (f"{name}/{CONTENT}/{path}",))
    versions[name] = new.as_version()
    return Inventory(id=identifier, head=name, manifest=manifest, versions=versions)


def _write_version(
    folder: Path, inventory: Inventory, version: NewVersion, known: Mapping[str, tuple[str, ...]]
) -> None:
    folder.mkdir()
    sources = {source.sha512: source for source in version.files.values()}
    for digest in sources.keys() - known.keys():
        place = folder / inventory.manifest[digest][0].partition("/")[2]
        place.parent.mkdir(parents=True, exist_ok=True)
        with sources[digest].opened() as file, place.open("wb") as kept:
            shutil.copyfileobj(file, kept)
    _write_inventory(folder, inventory)


def _write_inventory(folder: Path, inventory: Inventory) -> None:
    data = inventory.as_json()
    _put(folder / INVENTORY, data)
    _write_digest(folder, data)


def _write_digest(folder: Path, data: bytes) -> None:
    _put(folder / SIDECAR, f"{hashlib.sha512(data).hexdigest()} {INVENTORY}\n".encode())


def _put(path: Path, data: bytes) -> None:
    """Write a file in one step, so that it is the old one or the new."""
    half = _half(path)
    half.write_bytes(data)
    half.replace(path)


def _half(path: Path) -> Path:
    return path.with_name(f".{path.name}")
