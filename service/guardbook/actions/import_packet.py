"""Read a packet or an archive into the catalogue: the same records, bit for bit, and their pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from guardbook import settings
from guardbook.actions.keep_pictures import Files, faults_of_pictures, kept_together
from guardbook.actions.save_records import save_records
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import Fault, NotAllowed, NotFound, raise_faults
from guardbook.intake.bag import opened_bag
from guardbook.intake.ocfl.records import read_archive
from guardbook.intake.packet import Packet, read_packet
from guardbook.records.base import Record
from guardbook.records.mapping import canonical, to_quads


@dataclass(frozen=True, kw_only=True)
class Imported:
    """What a packet brought, or would bring: IRIs of records that are new and of those already here."""

    new: tuple[str, ...]
    unchanged: tuple[str, ...]
    pictures: int


def import_packet(
    access: Access,
    file: BinaryIO,
    name: str,
    *,
    who: str,
    what_for: str,
    dry_run: bool = False,
    data: Path | None = None,
) -> Imported:
    """Add what a packet holds, all or nothing; `data` is the folder of the catalogue (None: the usual one).

    Values that were confirmed where the packet was made are not asked about again. Raises UnreadableFile for
    a packet that is damaged, or is none, with everything that is wrong with it; InvalidRecord where a record
    is here already and says something else; StorageFailed; and as `save_records`.
    """
    _workshop_only(access)
    bag = opened_bag(file, name)
    with bag.archive:
        importing = _Importing(access, who, what_for, dry_run, data or settings.current().data)
        return importing.take(read_packet(bag, name), bag)


def import_archive(
    access: Access,
    folder: Path,
    *,
    who: str,
    what_for: str,
    dry_run: bool = False,
    data: Path | None = None,
) -> Imported:
    """Add what an archive (OCFL 1.1), or one object of it, holds now; what it held before stays in it.

    As `import_packet`.
    """
    _workshop_only(access)
    packet, files = read_archive(folder)
    importing = _Importing(access, who, what_for, dry_run, data or settings.current().data)
    return importing.take(packet, files)


def _workshop_only(access: Access) -> None:
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message="The public may look, but not import anything.")


@dataclass(frozen=True)
class _Importing:
    access: Access
    who: str
    what_for: str
    dry_run: bool
    data: Path

    def take(self, packet: Packet, files: Files) -> Imported:
        """Keep records and pictures, all or nothing."""
        access, pictures = self.access, packet.pictures
        fresh = [record for record in packet.records if not _is_here(access, record)]
        faults = [*_otherwise_here(access, fresh), *faults_of_pictures(files, pictures, self.data)]
        raise_faults(faults, "Nothing was imported.")
        if not self.dry_run:
            with kept_together(files, pictures, self.data):
                drafts = [(record, None) for record in fresh]
                save_records(access, drafts, who=self.who, what_for=self.what_for, sure=True)
        new = {record.id for record in fresh}
        return Imported(
            new=tuple(record.id for record in fresh),
            unchanged=tuple(record.id for record in packet.records if record.id not in new),
            pictures=len(pictures),
        )


def _is_here(access: Access, record: Record) -> bool:
    return access.has(record.id) and canonical(access.quads(record.id)) == canonical(to_quads(record))


def _otherwise_here(access: Access, records: Sequence[Record]) -> Iterator[Fault]:
    for record in records:
        if access.has(record.id):
            revision = access.record(record.id).revision
            yield Fault(
                where=record.short,
                found="a record that says something else",
                expected=f"what revision {revision} says here, or a record that is not here yet",
                mend="Import the packet into an empty catalogue and compare the two.",
            )
        elif _was_taken_out(access, record.id):
            yield Fault(
                where=record.short,
                found="a record that was taken out here",
                expected="one that is here still, or never was",
                mend="Its history says who took it out and why.",
            )


def _was_taken_out(access: Access, iri: str) -> bool:
    try:
        return bool(access.history(iri))
    except NotFound:
        return False
