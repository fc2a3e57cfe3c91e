"""The records of an archive as they are now, and where the files of their pictures are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guardbook import settings
from guardbook.errors import Fault, InvalidRecord
from guardbook.intake.ocfl.checking import StoredObject
from guardbook.intake.ocfl.storage_root import checked_objects
from guardbook.intake.packet import Packet, place_in_packet
from guardbook.intake.safe_zip import unreadable
from guardbook.records.base import Record
from guardbook.records.image import Image
from guardbook.records.mapping import from_quads, parse_canonical

RECORD = "record.nq"
_PIECE_BYTES = 1 << 20
_OTHER_HOME = "Start this catalogue with GUARDBOOK_BASE set to where the archive comes from."


@dataclass(frozen=True)
class ArchivedFiles:
    """The files of pictures in an archive, by the IRIs of their records."""

    objects: dict[str, StoredObject]

    def pieces(self, path: str) -> Iterator[bytes]:
        """Give a file piece by piece; `path` is as in the packet: the IRI, a space, and the path in it."""
        iri, _, place = path.partition(" ")
        with self.objects[iri].opened(place) as file:
            while piece := file.read(_PIECE_BYTES):
                yield piece


def read_archive(folder: Path) -> tuple[Packet, ArchivedFiles]:
    """Read what is in an archive now; records that were taken out are passed over.

    Raises UnreadableFile with every fault of any object, and reads nothing half.
    """
    objects = {found.inventory.id: found for found in checked_objects(folder)}
    faults: list[Fault] = []
    records = tuple(_records(objects, faults))
    if faults:
        raise unreadable(str(folder), faults)
    pictures = tuple(
        (record, f"{record.id} {place}")
        for record in records
        if isinstance(record, Image) and record.file
        if (place := place_in_packet(record.file)) in objects[record.id].files
    )
    return Packet(records, pictures), ArchivedFiles(objects)


def _records(objects: dict[str, StoredObject], faults: list[Fault]) -> Iterator[Record]:
    base = settings.current().base
    for iri, found in objects.items():
        if RECORD not in found.files:
            continue
        if not iri.startswith(base):
            expected = f"a record under {base}"
            faults.append(Fault(where=found.folder.name, found=iri, expected=expected, mend=_OTHER_HOME))
            continue
        try:
            with found.opened(RECORD) as file:
                record = from_quads(parse_canonical(file.read().decode()))
        except (InvalidRecord, SyntaxError, ValueError) as error:
            faults.append(Fault(where=found.folder.name, found=str(error), expected="a record in N-Quads"))
            continue
        if record.id != iri:
            faults.append(Fault(where=found.folder.name, found=record.id, expected=iri))
        yield record
