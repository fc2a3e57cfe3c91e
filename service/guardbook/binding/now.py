"""Where a piece is now, by the last event that says so, or else by its own record."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import reduce
from typing import Any

from guardbook.binding.contradictions import Contradiction, told
from guardbook.binding.dossier import Dossier
from guardbook.binding.life_order import puts_in
from guardbook.binding.ordering import is_planned
from guardbook.binding.replay import GONE, Life
from guardbook.binding.times import span
from guardbook.records.event import Event
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation


@dataclass(frozen=True, kw_only=True)
class Now:
    """Where a piece is: `state` is in-volume, kept-with-volume, kept, lost, destroyed or unknown.

    `host` is the volume it is in or kept with; `host_state` is lost or destroyed where the volume itself is.
    `event` is the event that says so; None where the piece's own record does, or nothing. `came_from` is the
    volume it was in last.
    """

    state: str = "unknown"
    host: str | None = None
    host_state: str | None = None
    keeper: str | None = None
    shelfmark: str | None = None
    housing: str | None = None
    place: str | None = None
    box_location: str | None = None
    event: Event | None = None
    came_from: str | None = None

    def as_json(self, dossier: Dossier) -> dict[str, Any]:
        """Give it as plain data, with the names of what it refers to."""
        return {
            "state": self.state,
            "host": self.host,
            "hostName": dossier.name(self.host) if self.host else None,
            "hostState": self.host_state,
            "keeper": self.keeper,
            "keeperName": dossier.name(self.keeper) if self.keeper else None,
            "shelfmark": self.shelfmark,
            "housing": self.housing,
            "place": self.place,
            "boxLocation": self.box_location,
            "event": self.event.id if self.event else None,
            "when": self.event.when if self.event else None,
        }


def now_of(life: Life, dossier: Dossier) -> Now:
    """Say where a piece is after all that has happened to it."""
    found = reduce(_after, [step.event for step in life.steps], Now())
    piece = dossier.piece(life.piece)
    if found.state in {"in-volume", "kept-with-volume"}:
        return _in_or_with(found, dossier)
    if piece is None or found.state in GONE or not (piece.keeper or piece.shelfmark):
        return found
    if found.state == "unknown":
        return Now(
            state="kept",
            keeper=piece.keeper,
            shelfmark=piece.shelfmark,
            box_location=piece.box_location,
            came_from=found.came_from,
        )
    same_keeper = found.keeper in {None, piece.keeper}
    shelfmark = found.shelfmark or (piece.shelfmark if same_keeper else None)
    return replace(found, keeper=found.keeper or piece.keeper, shelfmark=shelfmark)


def keeper_clash(life: Life, found: Now, dossier: Dossier) -> tuple[Contradiction, ...]:
    """Tell where a piece's own record names another keeper than the last event, unless it is lent."""
    piece = dossier.piece(life.piece)
    lent = isinstance(found.event, Move) and found.event.move_kind == "lent"
    if piece is None or lent or found.event is None or found.state != "kept" or dossier.withheld:
        return ()
    if piece.keeper is None or found.keeper in {None, piece.keeper}:
        return ()
    clash = told(
        "kept-in-two-places",
        dossier,
        piece=life.piece,
        other=piece.keeper,
        host=found.keeper,
        second=found.event,
    )
    return (clash,)


def _after(before: Now, event: Event) -> Now:
    match event:
        case Placing() as placing:
            return _placed(before, placing)
        case Separation() as separation:
            return _separated(before, separation)
        case Move() as move:
            return _moved(before, move)
        case _:
            return before


def _placed(before: Now, placing: Placing) -> Now:
    if puts_in(placing):
        return Now(state="in-volume", host=placing.host, event=placing, came_from=placing.host)
    if placing.return_kind == "kept-with-volume":
        return Now(state="kept-with-volume", host=placing.host, event=placing, came_from=placing.host)
    return replace(before, state="kept", host=None, event=placing)


def _separated(before: Now, separation: Separation) -> Now:
    host = separation.host or before.came_from
    after = Now(
        keeper=separation.went_to,
        shelfmark=separation.shelfmark,
        housing=separation.housing,
        box_location=separation.box_location,
        event=separation,
        came_from=host,
    )
    if separation.separation_kind == "lost":
        return replace(after, state="lost")
    if separation.housing == "pocket-in-volume" and host:
        return replace(after, state="kept-with-volume", host=host)
    said = (after.keeper, after.shelfmark, after.housing, after.box_location)
    return replace(after, state="kept" if any(said) else "unknown")


def _moved(before: Now, move: Move) -> Now:
    after = Now(
        state="kept",
        keeper=move.went_to or before.keeper,
        shelfmark=move.shelfmark,
        housing=move.housing,
        place=move.place,
        box_location=move.box_location,
        event=move,
        came_from=before.came_from,
    )
    if move.move_kind in GONE:
        return Now(state=move.move_kind or "lost", event=move, came_from=before.came_from)
    if move.kept_with:
        return replace(after, state="kept-with-volume", host=move.kept_with)
    return after


def _in_or_with(found: Now, dossier: Dossier) -> Now:
    """Add where the volume is, and whether it is lost itself."""
    host = dossier.host(found.host)
    moves = [e for e in dossier.events_at_host(found.host or "") if isinstance(e, Move) and not is_planned(e)]
    last = max(moves, key=lambda move: (span(move.when).earliest, move.id), default=None)
    gone = last.move_kind if last and last.move_kind in GONE else None
    if host is None:
        return replace(found, host_state=gone)
    return replace(
        found,
        host_state=gone,
        keeper=found.keeper or host.keeper,
        shelfmark=found.shelfmark or host.shelfmark,
        box_location=found.box_location or host.box_location,
    )
