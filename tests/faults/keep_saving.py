"""What a process that is to be killed does: mixed saves, each told once it is acknowledged."""

from __future__ import annotations

import random
from multiprocessing.connection import Connection
from pathlib import Path

from guardbook.catalogue.access import Access, Revision
from guardbook.catalogue.catalogue import open_catalogue
from guardbook.records.base import Record
from tests.catalogue.shelf import WHO, changed, placing, save, strip, volume

BATCH = 5


def keep_saving(folder: Path, name: str, told: Connection) -> None:
    """Save until killed; send each list of acknowledged revisions as (IRI, number, hash)."""
    chance = random.Random(name)
    with open_catalogue(folder) as catalogue:
        access = catalogue.access()
        told.send([])
        living: list[Record] = []
        for time in range(1_000_000):
            revisions = one_change(access, living, chance, f"{name} {time}")
            told.send([(revision.iri, revision.number, revision.sha256) for revision in revisions])


def one_change(
    access: Access, living: list[Record], chance: random.Random, name: str
) -> tuple[Revision, ...]:
    """Add a record, revise one, take one out, or add a volume with its pieces in one batch."""
    match chance.randrange(4) if living else 0:
        case 0:
            living.append(strip(name, note="seen " * chance.randrange(400)))
            return save(access, living[-1])
        case 1:
            record = living[chance.randrange(len(living))]
            kept = access.record(record.id)
            return save(access, changed(kept.record, condition=name), from_revision=kept.revision)
        case 2:
            record = living.pop(chance.randrange(len(living)))
            number = access.record(record.id).revision
            return (access.delete(record.id, started_from=number, who=WHO, why=name),)
        case _:
            host = volume(name)
            pieces = [strip(f"{name} {number}") for number in range((BATCH - 1) // 2)]
            return save(access, host, *pieces, *(placing(piece, host) for piece in pieces))
