"""The volume on the bench with all that belongs to it, out of the demo: quicker to load than all."""

from __future__ import annotations

from guardbook.catalogue.access import Access
from guardbook.catalogue.references import references_of
from guardbook.records.base import Record

SURVEY = "host/0N5X64-V"
# one removal for which all is there, one for which much is wanting, one that nobody has begun to prepare
PASTEDOWN, GUARD, PATCH = "separation/W9V0WB-H", "separation/JP617T-K", "separation/F5QG24-K"


def survey(demo: Access) -> list[Record]:
    """Give the survey, what names it, what names that, and what all of these name."""
    kept = {demo.resolve(SURVEY)}
    for _hop in range(2):
        kept |= {other for iri in kept for other in demo.about(iri)}
    waiting = set(kept)
    while waiting:
        records = [demo.record(iri).record for iri in waiting]
        named = {one.target.partition("#")[0] for record in records for one in references_of(record)}
        waiting = named - kept
        kept |= waiting
    return [demo.record(iri).record for iri in sorted(kept)]
