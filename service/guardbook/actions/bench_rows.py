"""What the overview of the workshop needs to know of one piece or volume, worked out when something changes.

A row is a name (see `catalogue.standing.BENCH`) and a value; values are made so that they sort by urgency.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from guardbook.actions.before_lifting import before_lifting
from guardbook.actions.check_record import check_record
from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier, piece_of
from guardbook.binding.now import keeper_clash, now_of
from guardbook.binding.ordering import is_planned
from guardbook.binding.pieces import pieces_of
from guardbook.binding.replay import Life
from guardbook.catalogue.access import Access
from guardbook.completeness.finding import VIOLATION
from guardbook.evidence.contradicted import contradicted
from guardbook.evidence.said import said_in
from guardbook.records.event import Event
from guardbook.records.fragment import Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

Row = tuple[str, str]
# no date sorts after every date
UNDATED = "~"


def bench_rows_of_volume(dossier: Dossier, host: HostVolume) -> Iterator[Row]:
    """Give the rows of a volume, from all that happened in it and the lives of its pieces."""
    for event in dossier.events_at_host(host.id):
        if is_planned(event) and piece_of(event) is None:
            yield "benchPlanned", _dated(event)
    clashes = pieces_of(dossier, host.id).contradictions
    told = {iri for clash in clashes for iri in clash.events}
    # where the order of events fails the dates of the same events do too: that is told once
    dates = [one for one in contradicted(said_in(dossier)) if told.isdisjoint(one.records)]
    if count := len(clashes) + len(dates):
        yield "benchContradictions", _most_first(count)


def bench_rows_of_piece(access: Access, dossier: Dossier, piece: Fragment, life: Life) -> Iterator[Row]:
    """Give the rows of a piece, from its life."""
    for event in life.planned:
        yield "benchPlanned", _dated(event)
    if life.planned and (count := _never_again(access, piece, life)):
        yield "benchNeverAgain", _most_first(count)
    now = now_of(life, dossier)
    if clashes := [one for one in _clashes(dossier, life) if not _is_told_of_a_volume(one)]:
        yield "benchContradictions", _most_first(len(clashes))
    if now.state in {"unknown", "lost"}:
        yield "benchPlaceUnknown", _told(now.state, now.event)
    elif not life.stays:
        yield "benchPlaceUnknown", _told("volume-unknown", now.event)
    if now.state == "kept" and now.came_from:
        yield "benchAway", _told(now.keeper or "", now.event)


def _never_again(access: Access, piece: Fragment, life: Life) -> int:
    """Count what must be recorded before the next planned event and cannot be afterwards."""
    if any(isinstance(event, Separation) for event in life.planned):
        return len(before_lifting(access, piece.short).never_again)
    if not any(isinstance(event, Placing) for event in life.planned):
        return 0
    report = check_record(access, piece.short, "after-lifting")
    return sum(not item.later and item.severity == VIOLATION for item in report.missing)


def _clashes(dossier: Dossier, life: Life) -> Iterator[Contradiction]:
    yield from life.contradictions
    yield from keeper_clash(life, now_of(life, dossier), dossier)


def _is_told_of_a_volume(clash: Contradiction) -> bool:
    return any("/host/" in iri for iri in clash.about)


def _dated(event: Event) -> str:
    """Sort by date, the first first, then name the event."""
    return json.dumps([event.when or UNDATED, event.id])


def _told(what: str, event: Event | None) -> str:
    """Sort by date, and say what there is to say; the newest is turned round to when it is shown."""
    return json.dumps([event.when or "" if event else "", what, event.id if event else ""])


def _most_first(count: int) -> str:
    """Sort high counts before low ones."""
    return f"{10**6 - count:06}"


def count_in(value: str) -> int:
    """Give the count that a value was made from."""
    return 10**6 - int(value)
