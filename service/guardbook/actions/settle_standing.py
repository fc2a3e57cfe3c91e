"""Work out how pieces and volumes stand, to search by: where now, with whom, how complete, with pictures."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Iterator
from functools import lru_cache, partial
from pathlib import Path

from guardbook import settings
from guardbook.actions.bench_rows import bench_rows_of_piece, bench_rows_of_volume
from guardbook.actions.check_record import check_record
from guardbook.actions.event_dossier import dossier_of_host, dossier_of_piece
from guardbook.binding.now import now_of
from guardbook.binding.replay import life_of
from guardbook.catalogue.access import Access, Viewer
from guardbook.completeness.finding import VIOLATION
from guardbook.completeness.shape_files import STAGES
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume

# changed whenever the same records would now give other rows
VERSION = 2
NOTHING_YET = "nothing-yet"
AT_ONCE = 10


def settle_standing(access: Access, seconds: float | None = None) -> int:
    """Work out, for this long or (None) to the end, what may have changed; give how many records are left."""
    latest = None if seconds is None else time.monotonic() + seconds
    rules = _rules(settings.current().shapes, settings.current().workshop_shapes)
    while left := access.settle(rules, partial(_standing, access), AT_ONCE if seconds is None else 1):
        if latest is not None and time.monotonic() >= latest:
            break
    return left


@lru_cache(maxsize=4)
def _rules(shapes: Path, workshop: Path | None) -> str:
    """Stand for everything beside the records that decides how they stand."""
    files = [path for folder in (shapes, workshop) if folder for path in sorted(folder.rglob("*.ttl"))]
    digest = hashlib.sha256(b"".join(path.read_bytes() for path in files)).hexdigest()
    return f"{VERSION} {digest[:16]}"


def _standing(access: Access, iri: str) -> frozenset[tuple[str, str]]:
    return frozenset(_rows(access, access.record(iri).record))


def _rows(access: Access, record: Record) -> Iterator[tuple[str, str]]:
    yield "hasImage", "yes" if access.linked(record.id, "depicts") else "no"
    # what the public may not see would count as missing
    if access.viewer is Viewer.WORKSHOP:
        yield "completeFor", _complete_for(access, record)
    if isinstance(record, Fragment):
        dossier = dossier_of_piece(access, record)
        life = life_of(dossier, record.id)
        now = now_of(life, dossier)
        yield "whereNow", now.state
        if now.keeper:
            yield "keeper", now.keeper
        if access.viewer is Viewer.WORKSHOP:
            yield from bench_rows_of_piece(access, dossier, record, life)
    elif isinstance(record, HostVolume) and access.viewer is Viewer.WORKSHOP:
        yield from bench_rows_of_volume(dossier_of_host(access, record), record)


def _complete_for(access: Access, record: Record) -> str:
    """Give the last stage that a record is complete for, with those before it."""
    report = check_record(access, record.short, STAGES[-1])
    lacking = [STAGES.index(item.stage) for item in report.missing if item.severity == VIOLATION]
    first = min(lacking, default=len(STAGES))
    return STAGES[first - 1] if first else NOTHING_YET
