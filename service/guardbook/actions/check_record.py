"""Say what is missing from a record for a stage of the work, together with its events and images."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import pyoxigraph as ox

from guardbook import settings
from guardbook.catalogue.access import Access
from guardbook.completeness.report import Report
from guardbook.completeness.stages import check
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.kinds import KINDS
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _

_GOES_WITH_A_PIECE = frozenset(
    {"placing", "separation", "alteration", "move", "image", "reading", "decision"}
)
_GOES_WITH_A_VOLUME = _GOES_WITH_A_PIECE - {"placing", "separation"}
_HOPS = 3


def check_record(access: Access, name: str, stage: str | None = None) -> Report:
    """Check a record for a stage and those before it; without a stage, for the one that makes sense.

    A piece is checked with its placings, separations and other events, and its images; a volume with what
    was done to it and its images; any other record by itself. Raises NotFound, Gone, and WrongUse for a
    stage that is none.
    """
    record = access.record(access.resolve(name)).record
    return _report(access, record, stage, _focus(access, record))


def check_records(access: Access, records: Sequence[str], stage: str) -> Report:
    """Check some records together for a stage, the one that is asked about first.

    Raises as `check_record`.
    """
    return check(_dossier(access, records), stage, records)


def check_all(access: Access, stage: str | None = None) -> Iterator[Report]:
    """Check every record once, one report after the other: events and images with their piece or volume."""
    seen: set[str] = set()
    kinds = ["fragment", "host", *(kind for kind in KINDS if kind not in {"fragment", "host"})]
    for iri in (iri for kind in kinds for iri in access.iris(kind)):
        if iri not in seen:
            record = access.record(iri).record
            focus = [one for one in _focus(access, record) if one not in seen]
            seen.update(focus)
            yield _report(access, record, stage, focus)


def _report(access: Access, record: Record, stage: str | None, focus: Sequence[str]) -> Report:
    separations = _separations_of(access, record)
    chosen, because = (stage, "") if stage else _stage_for(separations)
    around = {*focus, *(separation.id for separation in separations)}
    return replace(check(_dossier(access, around), chosen, focus), because=because)


def _focus(access: Access, record: Record) -> list[str]:
    """Give the records to report on: the one asked about, and those that belong to it and are not planned."""
    match record:
        case Fragment():
            kinds = _GOES_WITH_A_PIECE
        case HostVolume():
            kinds = _GOES_WITH_A_VOLUME
        case _:
            return [record.id]
    others = (access.record(iri).record for iri in access.about(record.id))
    return [record.id, *(one.id for one in others if one.kind in kinds and not _is_planned_placing(one))]


def _is_planned_placing(record: Record) -> bool:
    return isinstance(record, Placing) and record.status == "planned"


def _separations_of(access: Access, record: Record) -> list[Separation]:
    """Give the separations a piece or volume went through, those that ended a placing, or the one itself."""
    match record:
        case Separation():
            return [record]
        case Fragment() | HostVolume():
            return list(_separations(access, record.id))
        case Placing():
            return [one for one in _separations(access, record.piece) if _ends(one, record)]
        case _:
            return []


def _separations(access: Access, iri: str) -> Iterator[Separation]:
    for other in access.about(iri) if access.has(iri) else ():
        found = access.record(other).record
        if isinstance(found, Separation):
            yield found


def _ends(separation: Separation, placing: Placing) -> bool:
    if separation.undoes:
        return separation.undoes == placing.id
    return separation.host == placing.host


def _stage_for(separations: Iterable[Separation]) -> tuple[str, str]:
    """Give the stage that makes sense, and say why."""
    found = list(separations)
    if any(one.status == "planned" for one in found):
        because = _("A separation is planned, so this asks for what must be known before it.")
        return "before-lifting", because
    if found:
        because = _("A separation has taken place, so this asks for what must be known after it.")
        return "after-lifting", because
    because = _("No separation is planned or recorded, so this asks for what is seen at first sight.")
    return "on-sight", because


def _dossier(access: Access, start: Iterable[str]) -> Iterator[ox.Quad]:
    """Give the statements of some records, of those they name, and of those that these name."""
    seen: set[str] = set()
    waiting = set(start)
    for _hop in range(_HOPS):
        found = [quad for iri in sorted(waiting) if access.has(iri) for quad in access.quads(iri)]
        yield from found
        seen |= waiting
        waiting = _named(found) - seen


def _named(quads: Iterable[ox.Quad]) -> set[str]:
    """Give the records that are named in some statements."""
    base = settings.current().base
    iris = {quad.object.value.partition("#")[0] for quad in quads if isinstance(quad.object, ox.NamedNode)}
    return {iri for iri in iris if iri.startswith(base) and iri.removeprefix(base).partition("/")[0] in KINDS}
