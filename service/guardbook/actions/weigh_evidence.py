"""Say what the observations on a volume or piece may mean, how far that goes, and what would settle it."""

from __future__ import annotations

from guardbook.actions.date_record import evidence_dossier
from guardbook.actions.event_dossier import seen
from guardbook.binding.dossier import Dossier
from guardbook.catalogue.access import Access
from guardbook.evidence.evidence import Evidence, evidence_of
from guardbook.records.base import Record
from guardbook.records.fragment import Fragment
from guardbook.records.reading import Reading


def weigh_evidence(access: Access, name: str) -> Evidence:
    """Read the evidence on the volume or piece of an identifier in any spelling, or of a workshop number.

    Raises NotFound, Gone, WrongUse for a record that is neither, and BrokenShapes where our rows are broken.
    """
    record = access.record(access.resolve(name)).record
    found = evidence_dossier(access, record)
    more = [*_readings(access, record.id), *_of_one_carrier(access, record)]
    return evidence_of(Dossier.of([*found.records.values(), *more], found.withheld), record.id)


def _readings(access: Access, iri: str) -> list[Record]:
    about = [one for one in seen(access, access.about(iri)) if isinstance(one, Reading)]
    by = {reading.by for reading in about if reading.by}
    return [*about, *seen(access, by)]


def _of_one_carrier(access: Access, record: Record) -> list[Record]:
    """Give the other pieces of the carriers a piece was cut from."""
    if not isinstance(record, Fragment):
        return []
    carriers = {place.carrier for place in record.carrier_places}
    named = access.referring(sorted(carriers)) if carriers else ()
    return [one for one in seen(access, named) if isinstance(one, Fragment)]
