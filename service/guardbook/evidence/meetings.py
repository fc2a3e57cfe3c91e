"""Situations in which several events meet: a return, a piece in two volumes, a trace across a joint."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from guardbook.binding.contradictions import event_words
from guardbook.binding.dossier import Dossier
from guardbook.binding.life_order import puts_in
from guardbook.binding.ordering import is_planned
from guardbook.binding.times import Span, reach
from guardbook.evidence.situations import Gathered, Situation, quoted, short
from guardbook.records.event import Event
from guardbook.records.fragment import Feature, Fragment
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _


def meetings(gathered: Gathered) -> Iterator[Situation]:
    """Give the situations of returns, of pieces in two volumes, and of traces that go on or under."""
    for event in gathered.events:
        if isinstance(event, Placing) and event.undoes in gathered.dossier.records:
            yield _returned(gathered, event)
    for piece in gathered.pieces:
        yield from _two_books(gathered, piece.id)
        for trace in piece.features:
            yield from _across(gathered, piece, trace)
            yield from _under(gathered, piece, trace)


def placings_in(dossier: Dossier, piece: str) -> list[Placing]:
    """Give the placings that put a piece into a volume, planned ones left out."""
    return [
        event
        for event in dossier.events_of_piece(piece)
        if isinstance(event, Placing) and not is_planned(event) and puts_in(event)
    ]


def leaving_of(gathered: Gathered, placing: Placing) -> Separation | None:
    """Give the separation that ended a placing, if it is recorded."""
    for event in gathered.dossier.events_of_piece(placing.piece):
        if isinstance(event, Separation) and not is_planned(event):
            undone = gathered.placing_undone(event)
            if undone and undone.id == placing.id:
                return event
    return None


def trace_time(piece: Fragment, trace: Feature) -> str:
    """Name the time at which a trace was made."""
    return f"trace {piece.id}{trace.id}"


def _returned(gathered: Gathered, placing: Placing) -> Situation:
    separation = gathered.dossier.records[placing.undoes or ""]
    words = event_words(separation) if isinstance(separation, Event) else short(separation.id)
    return Situation(
        of="return",
        record=placing.id,
        times={"separation": separation.id, "placing": placing.id},
        names={"separation": words, "placing": event_words(placing)},
    )


def _two_books(gathered: Gathered, piece: str) -> Iterator[Situation]:
    for one, two in combinations(placings_in(gathered.dossier, piece), 2):
        if one.host == two.host:
            continue
        order = _order(gathered, one, two)
        if order is not None:
            leaving, placing = order
            yield Situation(
                of="two-books",
                record=placing.id,
                times={"leaving": leaving.id, "placing": placing.id},
                names={
                    "piece": quoted(gathered.dossier.name(piece)),
                    "leaving": event_words(leaving),
                    "placing": event_words(placing),
                },
            )


def _order(gathered: Gathered, one: Placing, two: Placing) -> tuple[Event, Placing] | None:
    """Say which of two volumes a piece must have left before it came into the other, if one way is left.

    Where a leaving is not recorded, and nothing dates that placing before the other, it is the later one.
    """
    leavings = {id(placing): leaving_of(gathered, placing) for placing in (one, two)}
    ways = [
        (leaving, after)
        for before, after in ((one, two), (two, one))
        if (leaving := leavings[id(before)]) is not None
    ]
    if len(ways) == 2:
        possible = [way for way in ways if not _span(way[1]).surely_before(_span(way[0]))]
        return possible[0] if len(possible) == 1 else ways[0] if not possible else None
    if not ways or gathered.dossier.withheld:
        # that a leaving is not recorded tells nothing where there are events that this viewer is not shown
        return None
    leaving, later = ways[0]
    earlier = one if later is two else two
    return None if _span(later).surely_before(_span(earlier)) else (leaving, later)


def _span(event: Event) -> Span:
    return reach(event.when)


def _across(gathered: Gathered, piece: Fragment, trace: Feature) -> Iterator[Situation]:
    """Give a trace that goes on across the joint in each volume in which both of its sides lay."""
    for placing in _first_in_each(gathered.dossier, piece.id):
        sides = [iri for iri in trace.continues_on if _lay_there(gathered.dossier, iri, placing.host)]
        for other in sides:
            times = {"inscription": trace_time(piece, trace), "placing": placing.id}
            leaving = leaving_of(gathered, placing)
            if leaving:
                times["leaving"] = leaving.id
            yield Situation(
                of="inscription",
                record=piece.id,
                times=times,
                names={
                    "piece": quoted(piece.display_title),
                    "other": quoted(gathered.dossier.name(other)),
                    "record": piece.short,
                },
            )


def _under(gathered: Gathered, piece: Fragment, trace: Feature) -> Iterator[Situation]:
    for other in trace.runs_under:
        for placing in _first_in_each(gathered.dossier, other):
            yield Situation(
                of="under",
                record=piece.id,
                times={"inscription": trace_time(piece, trace), "placing": placing.id},
                names={"other": quoted(gathered.dossier.name(other)), "record": piece.short},
            )


def never_together(gathered: Gathered) -> Iterator[str]:
    """Tell of traces that are said to go on across a joint where the piece never lay, one sentence each."""
    for piece in gathered.pieces:
        hosts = {placing.host for placing in placings_in(gathered.dossier, piece.id)}
        for trace in piece.features:
            for other in trace.continues_on:
                if not any(_lay_there(gathered.dossier, other, host) for host in hosts):
                    name = quoted(gathered.dossier.name(other))
                    yield _(
                        "A trace of {piece} [{record}] is said to go on across the joint on {other} "
                        "[{other_record}], but nothing says that the two ever lay together. Record the "
                        "placing, or correct what it goes on to."
                    ).format(
                        piece=quoted(piece.display_title),
                        record=f"{piece.short}{trace.id}",
                        other=name,
                        other_record=short(other),
                    )


def _first_in_each(dossier: Dossier, piece: str) -> list[Placing]:
    """Give the placing that first put a piece into each of its volumes."""
    first: dict[str, Placing] = {}
    for placing in sorted(placings_in(dossier, piece), key=lambda one: (_span(one), one.id)):
        first.setdefault(placing.host, placing)
    return list(first.values())


def _lay_there(dossier: Dossier, iri: str, host: str) -> bool:
    return iri == host or any(placing.host == host for placing in placings_in(dossier, iri))
