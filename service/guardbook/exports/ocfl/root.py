"""A storage root that is begun or carried on: what it is, whose it is, and its objects brought up to date.

Source: OCFL 1.1, section 4. Objects are made aside and moved to their places whole, so that none lies there
half (E072); what a run that was cut short left aside goes away with the next. The root says of which
catalogue it is and for whom, so that an archive for the public is never filled up by mistake with what only
the workshop may see.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path

from pydantic import ValidationError

from guardbook import settings
from guardbook.errors import Fault, StorageFailed, UnreadableFile, WrongUse
from guardbook.exports.ocfl.layout import CONFIGURATION, EXTENSION, LAYOUT, as_json, place_of
from guardbook.exports.ocfl.writing import NewVersion, add_versions, mended, write_object
from guardbook.intake.ocfl.checking import StoredObject, read_object
from guardbook.intake.ocfl.inventory import Version
from guardbook.intake.ocfl.storage_root import (
    EXTENSIONS,
    ROOT_DECLARATION,
    ROOT_DECLARED,
    is_storage_root,
    object_folders,
)
from guardbook.wording import _

WHOSE = "guardbook.json"
ANOTHER_FILE = "The file of the picture as it is now"
PICTURES = "images/"
_ASIDE = ".coming-"
_README = Path(__file__).with_name("readme.txt")


class Done(StrEnum):
    """What was done with an object."""

    NEW = "new"
    ADDED_TO = "added to"
    WRITTEN_ANEW = "written anew"
    AS_IT_WAS = "as it was"


@dataclass(frozen=True)
class StorageRoot:
    """An open root; `aside` is a folder on the same disk that goes away in the end.

    `keeps_history` where what an object said once may not change: then an object whose versions are other
    ones is refused, else it is written anew.
    """

    folder: Path
    aside: Path
    keeps_history: bool

    def place(self, identifier: str) -> Path:
        """Give where an object lies."""
        return self.folder / place_of(identifier)

    def stored(self, identifier: str) -> StoredObject | None:
        """Give an object that is there, or None. Raises UnreadableFile for one that is damaged."""
        folder = self.place(identifier)
        if not folder.exists():
            return None
        try:
            found = read_object(folder)
            mended(folder, found.inventory)
        except (ValidationError, OSError) as error:
            told = _("an inventory that cannot be read ({reason})")
            raise self._refused(folder, told.format(reason=type(error).__name__)) from error
        if found.inventory.id != identifier:
            told = _("the object {identifier}").format(identifier=found.inventory.id)
            raise self._refused(folder, told)
        return found

    def bring_up_to_date(self, identifier: str, versions: Sequence[NewVersion]) -> tuple[Done, int]:
        """Write what is not there yet of all versions of an object; give how many were written.

        Raises UnreadableFile where what is there says something else and history is kept.
        """
        stored = self.stored(identifier)
        if stored is None:
            self._put(identifier, versions)
            return Done.NEW, len(versions)
        missing = self._missing(stored, versions)
        if missing is not None:
            if missing:
                folder = self.place(identifier)
                add_versions(folder, identifier, stored.inventory, missing, aside=self.aside)
            return (Done.ADDED_TO if missing else Done.AS_IT_WAS), len(missing)
        if self.keeps_history:
            raise self._refused(self.place(identifier), _("versions that the catalogue never had"))
        self._take_away(self.place(identifier))
        self._put(identifier, versions)
        return Done.WRITTEN_ANEW, len(versions)

    def add(self, identifier: str, stored: StoredObject | None, version: NewVersion) -> int:
        """Add one version to an object whose history nobody else keeps; give how many were written."""
        if stored is None:
            self._put(identifier, [version])
        else:
            add_versions(self.place(identifier), identifier, stored.inventory, [version], aside=self.aside)
        return 1

    def _missing(self, stored: StoredObject, versions: Sequence[NewVersion]) -> Sequence[NewVersion] | None:
        """Give what is not there yet; None where what is there is not what it should be."""
        wanted = [version.as_version() for version in versions]
        there = [version for _number, version in stored.inventory.in_order()]
        if not self.keeps_history:
            return versions[len(there) :] if there == wanted[: len(there)] else None
        told = [version for version in there if version.message != ANOTHER_FILE]
        if list(map(_but_for_pictures, told)) != list(map(_but_for_pictures, wanted[: len(told)])):
            return None
        if (missing := versions[len(told) :]) or there[-1].files == wanted[-1].files:
            return missing
        return [replace(versions[-1], created=datetime.now(UTC), message=ANOTHER_FILE)]

    def remove_all_but(self, identifiers: set[str]) -> list[str]:
        """Take out the objects of other identifiers, and give those."""
        kept = {self.place(identifier) for identifier in identifiers}
        strange = [folder for folder in object_folders(self.folder) if folder not in kept]
        if strange and self.keeps_history:
            raise self._refused(strange[0], _("an object that the catalogue never had"))
        taken = [read_object(folder).inventory.id for folder in strange]
        for folder in strange:
            self._take_away(folder)
            self._without_empty_folders(folder.parent)
        return taken

    def _put(self, identifier: str, versions: Sequence[NewVersion]) -> None:
        made = self.aside / "object"
        write_object(made, identifier, versions)
        place = self.place(identifier)
        place.parent.mkdir(parents=True, exist_ok=True)
        made.replace(place)

    def _take_away(self, folder: Path) -> None:
        gone = self.aside / "gone"
        folder.replace(gone)
        shutil.rmtree(gone)

    def _without_empty_folders(self, folder: Path) -> None:
        with suppress(OSError):
            while folder != self.folder:
                folder.rmdir()
                folder = folder.parent

    def _refused(self, folder: Path, found: str) -> UnreadableFile:
        mend = _("Look at it with `guardbook import --dry-run`, and begin another archive in another folder.")
        told = _("The archive {folder} is not as it was left.")
        fault = Fault(
            where=folder.relative_to(self.folder).as_posix(),
            found=found,
            expected=_("an object as this catalogue wrote it"),
            mend=mend,
        )
        return UnreadableFile(message=told.format(folder=self.folder), faults=(fault,))


@contextmanager
def opened_root(folder: Path, viewer: str, *, keeps_history: bool) -> Iterator[StorageRoot]:
    """Open a storage root, begun where there is nothing yet; `viewer` says for whom it is.

    Raises WrongUse for a folder that holds something else, or an archive of another catalogue or for others;
    StorageFailed where the disk does not take it.
    """
    try:
        _begin(folder, viewer)
        for left in folder.glob(f"{_ASIDE}*"):
            shutil.rmtree(left)
        # on the same disk as the root, which may be a disk of its own
        with tempfile.TemporaryDirectory(dir=folder, prefix=_ASIDE) as aside:
            yield StorageRoot(folder, Path(aside), keeps_history)
    except OSError as error:
        told = _("{folder} could not be written: {reason}.")
        raise StorageFailed(message=told.format(folder=folder, reason=error.strerror)) from error


def _but_for_pictures(version: Version) -> tuple[Version, dict[str, str]]:
    """Give what a version says without its pictures, whose files come and go without a revision."""
    files = {path: digest for path, digest in version.files.items() if not path.startswith(PICTURES)}
    return version.model_copy(update={"state": {}}), files


def _begin(folder: Path, viewer: str) -> None:
    here = settings.current()
    whose = {"catalogue": here.base, "for": viewer}
    if is_storage_root(folder):
        _hold_to(folder, whose)
    elif folder.exists() and any(folder.iterdir()):
        told = _("{folder} holds something else; give a folder that is empty or not there yet.")
        raise WrongUse(message=told.format(folder=folder))
    configuration = folder / EXTENSIONS / EXTENSION / "config.json"
    configuration.parent.mkdir(parents=True, exist_ok=True)
    configuration.write_bytes(as_json(CONFIGURATION))
    (folder / "ocfl_layout.json").write_bytes(as_json(LAYOUT))
    (folder / WHOSE).write_bytes(as_json(whose))
    words = _README.read_text(encoding="utf-8")
    (folder / "README.txt").write_bytes(words.format(name=here.name, base=here.base, viewer=viewer).encode())
    (folder / ROOT_DECLARATION).write_bytes(f"{ROOT_DECLARED}\n".encode())


def _hold_to(folder: Path, whose: dict[str, str]) -> None:
    try:
        found = json.loads((folder / WHOSE).read_bytes())
    except (OSError, ValueError):
        found = None
    if found != whose:
        told = (
            _(
                "{folder} is an archive of {found}, and not of {whose}. Give another folder: what one "
                "archive is for is never mixed with another."
            )
            if found
            else _(
                "{folder} is an archive of something else, and not of {whose}. Give another folder: what one "
                "archive is for is never mixed with another."
            )
        )
        said = {"found": _said(found), "whose": _said(whose)}
        raise WrongUse(message=told.format(folder=folder, **said))


def _said(whose: object) -> str:
    return ", ".join(map(str, whose.values())) if isinstance(whose, dict) else str(whose)
