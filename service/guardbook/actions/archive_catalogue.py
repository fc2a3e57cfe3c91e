"""Keep the whole catalogue as an archive: every record with its versions, and the files of its pictures.

A second run adds what is new. For the public the archive holds what the public may see now: what it may see
no longer, such as the name of an owner who wants to be named no more, is taken out of older versions too.
"""

from __future__ import annotations

import hashlib
import io
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import chain
from pathlib import Path
from typing import BinaryIO

from guardbook import settings
from guardbook.actions.image_file import ImageFile, file_for
from guardbook.catalogue.access import Access, Revision, Viewer
from guardbook.errors import Busy, NotFound
from guardbook.exports.model_files import model_files
from guardbook.exports.ocfl.root import Done, StorageRoot, opened_root
from guardbook.exports.ocfl.writing import NewVersion, Source
from guardbook.intake.ocfl.records import RECORD
from guardbook.intake.packet import place_in_packet
from guardbook.records.base import Record
from guardbook.records.image import Image
from guardbook.records.mapping import canonical, to_quads

MODEL = settings.NAMESPACE.removesuffix("#")
_MODEL_MESSAGE = "The ontology, terms, shapes and context in use"
_VIEWERS = {Viewer.PUBLIC: "the public", Viewer.WORKSHOP: "the workshop"}


@dataclass(frozen=True, kw_only=True)
class Archived:
    """What was written: how many objects and versions; which objects were new, written anew or taken out.

    `left_out` names pictures that should be there and are not.
    """

    objects: int
    new: int
    versions: int
    written_anew: tuple[str, ...]
    taken_out: tuple[str, ...]
    left_out: tuple[str, ...]


def archive_catalogue(access: Access, folder: Path, *, data: Path | None = None) -> Archived:
    """Begin an archive in a folder, or bring it up to date; `data` is the folder of the catalogue.

    Raises WrongUse for a folder that holds something else, UnreadableFile where the archive is not as it was
    left, Busy where somebody saved meanwhile, StorageFailed.
    """
    sequence, viewer = access.sequence, access.viewer
    with opened_root(folder, _VIEWERS[viewer], keeps_history=viewer is Viewer.WORKSHOP) as root:
        archiving = _Archiving(access, root, data)
        for iri in chain(access.iris(), access.taken_out()):
            archiving.put(iri, list(archiving.versions(iri)))
        archiving.put_model()
        taken_out = root.remove_all_but(archiving.known)
    if access.sequence != sequence:
        raise Busy(message="Somebody saved while the archive was written: run it again to add that.")
    return Archived(
        objects=len(archiving.known),
        new=archiving.done[Done.NEW],
        versions=archiving.written,
        written_anew=tuple(archiving.anew),
        taken_out=tuple(taken_out),
        left_out=tuple(archiving.left_out),
    )


class _Archiving:
    """One run: what was put into the archive so far."""

    def __init__(self, access: Access, root: StorageRoot, data: Path | None) -> None:
        self._access, self._root, self._data = access, root, data
        self.known: set[str] = set()
        self.done: Counter[Done] = Counter()
        self.written = 0
        self.anew: list[str] = []
        self.left_out: list[str] = []

    def put(self, identifier: str, versions: list[NewVersion]) -> None:
        """Bring one object up to date; of a record of which no version may be seen there is none."""
        if not any(version.files for version in versions):
            return
        done, written = self._root.bring_up_to_date(identifier, versions)
        self.known.add(identifier)
        self.done[done] += 1
        self.written += written
        if done is Done.WRITTEN_ANEW:
            self.anew.append(identifier)

    def put_model(self) -> None:
        """Keep what explains the records, where it is not what was kept last."""
        stored = self._root.stored(MODEL)
        files = {path: _source(path_of.read_bytes()) for path, path_of in model_files()}
        new = _version(datetime.now(UTC), _MODEL_MESSAGE, "", files)
        self.known.add(MODEL)
        if stored and stored.files == new.as_version().files:
            return
        self.written += self._root.add(MODEL, stored, new)

    def versions(self, iri: str) -> Iterator[NewVersion]:
        """Give the versions of a record as this viewer may see them."""
        picture = self._picture(iri)
        for revision, record in self._access.versions(iri):
            files = self._files(record, picture) if record else {}
            yield _version(revision.when, _told(revision), revision.who, files)

    def _picture(self, iri: str) -> ImageFile | None:
        """Give the file of a picture, and say so where there should be one and is not."""
        if "/image/" not in iri or not self._access.has(iri):
            return None
        record = self._access.record(iri).record
        if not isinstance(record, Image) or not record.file:
            return None
        found = file_for(self._access.viewer, record, self._data)
        try:
            if found and found.is_the_one_described and found.sha256:
                return found
        except NotFound:
            pass
        self.left_out.append(f"{record.short}: its file {record.file!r} is not kept here as it is described")
        return None

    def _files(self, record: Record, picture: ImageFile | None) -> dict[str, Source]:
        files: dict[str, Source] = {}
        if isinstance(record, Image) and picture and record.file == picture.image.file:
            then = ImageFile(record, picture.path, is_bare=picture.is_bare)
            if then.is_the_one_described:
                record = then.described
                files[place_in_packet(str(record.file))] = Source(_sha512(then.opened), then.opened)
        return {RECORD: _source(canonical(to_quads(record)).encode()), **files}


def _version(created: datetime, message: str, who: str, files: dict[str, Source]) -> NewVersion:
    here = settings.current()
    return NewVersion(created=created, message=message, user=who or here.name, address=here.base, files=files)


def _told(revision: Revision) -> str:
    said = f"Revision {revision.number}" + (", taken out" if revision.tombstone else "")
    return f"{said}: {revision.what_for}" if revision.what_for else said


def _source(data: bytes) -> Source:
    return Source(hashlib.sha512(data).hexdigest(), lambda: io.BytesIO(data))


def _sha512(opened: Callable[[], BinaryIO]) -> str:
    with opened() as file:
        return hashlib.file_digest(file, "sha512").hexdigest()  # type: ignore[arg-type]  # any binary file
