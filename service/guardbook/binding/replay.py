"""The life of a piece over all its volumes, as a fold of the events that happened to it.

Replay refuses nothing: it does what each event says, and tells beside it what cannot all be true.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import reduce

from guardbook.binding.contradictions import Contradiction, told
from guardbook.binding.dossier import Dossier
from guardbook.binding.life_order import order_of_life, puts_in
from guardbook.binding.ordering import Step, is_planned, likely_stage, order_at_host, stages_of
from guardbook.binding.outlines import Shape, altered, shape_of
from guardbook.binding.stays import Lying, Stay
from guardbook.records.alteration import Alteration
from guardbook.records.event import Event
from guardbook.records.move import Move
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation

# a piece that was found so, or is gone so, may have been in its volume without any record of its placing
NEEDS_NO_PLACING = frozenset(
    {"found-loose-with-volume", "found-loose-host-unknown", "separated-long-ago", "lost"}
)
GONE = frozenset({"lost", "destroyed"})


@dataclass(frozen=True)
class Life:
    """What happened to one piece, in order, and the stays that come of it; planned events are kept apart."""

    piece: str
    steps: tuple[Step, ...]
    stays: tuple[Stay, ...]
    planned: tuple[Event, ...]
    contradictions: tuple[Contradiction, ...]


@dataclass(frozen=True)
class _Fold:
    dossier: Dossier
    piece: str
    shape: Shape
    stays: tuple[Stay, ...] = ()
    inside: bool = False
    clashes: tuple[Contradiction, ...] = ()

    @property
    def open(self) -> Stay | None:
        return self.stays[-1] if self.inside else None

    def began(self, stay: Stay) -> _Fold:
        return replace(self, stays=(*self.stays, stay), inside=stay.leaving is None)

    def changed(self, old: Stay, new: Stay) -> _Fold:
        stays = tuple(new if stay is old else stay for stay in self.stays)
        still = self.inside and not (old is self.open and new.leaving)
        return replace(self, stays=stays, inside=still)

    def overtaken(self, step: Step, stay: Stay) -> _Fold:
        """Leave a stay without an end, since none is recorded; in the same volume the new place ends it."""
        stage = step.stage if step.host == stay.host else None
        return replace(self.changed(stay, stay.ended(None, stage)), inside=False)

    def clash(self, kind: str, step: Step, **words: object) -> _Fold:
        words = {"piece": self.piece, "host": step.host, **words}
        found = told(kind, self.dossier, second=step.event, **words)  # type: ignore[arg-type]  # kept by table
        return replace(self, clashes=(*self.clashes, found))


def life_of(dossier: Dossier, iri: str) -> Life:
    """Replay everything that happened to a piece, whether or not its own record is here."""
    events = dossier.events_of_piece(iri)
    piece = dossier.piece(iri)
    steps = order_of_life(_chains(dossier, [event for event in events if not is_planned(event)]))
    planned = tuple(sorted((e for e in events if is_planned(e)), key=lambda e: (e.when or "", e.id)))
    start = _Fold(dossier, iri, shape_of(piece) if piece else Shape())
    fold = reduce(_happened, steps, start)
    # what seems to clash may hang on an event that this viewer is not shown
    clashes = () if dossier.withheld else (*fold.clashes, *_never_returned(fold, planned))
    return Life(iri, steps, fold.stays, planned, clashes)


def _chains(dossier: Dossier, events: list[Event]) -> list[tuple[Step, ...]]:
    """Give the events in each volume in their order, and each of the others by itself."""
    at_host: dict[str, list[Event]] = defaultdict(list)
    alone = []
    for event in events:
        host = None if isinstance(event, Move) else getattr(event, "host", None)
        if host:
            at_host[host].append(event)
        else:
            alone.append(Step(event, when=event.when))
    chains = [order_at_host(dossier.host(host), found) for host, found in at_host.items()]
    return [*chains, *((step,) for step in alone)]


def _happened(fold: _Fold, step: Step) -> _Fold:
    match step.event:
        case Placing() as placing:
            return _placed(fold, step, placing)
        case Separation() as separation:
            return _separated(fold, step, separation)
        case Alteration() as alteration:
            return _altered(fold, step, alteration)
        case Move() as move:
            return _moved(fold, step, move)
        case _:
            return fold


def _placed(fold: _Fold, step: Step, placing: Placing) -> _Fold:
    if stay := fold.open:
        fold = fold.clash("placed-while-elsewhere", step, other=stay.host, first=stay.placing)
        fold = fold.overtaken(step, stay)
    if not puts_in(placing):
        return fold
    before = _restored(fold, placing)
    positions = placing.positions or (before.lyings[-1].positions if before and before.lyings else ())
    lying = Lying(step.stage, placing.id, positions, fold.shape)
    described = (placing, *(before.described if before else ()))
    return fold.began(Stay(fold.piece, placing.host, described, step.stage, (lying,)))


def _restored(fold: _Fold, placing: Placing) -> Stay | None:
    """Give the stay that a return restores: what it does not say anew is as it was then."""
    if placing.return_kind != "put-back-in-place":
        return None
    return next((stay for stay in reversed(fold.stays) if stay.host == placing.host), None)


def _separated(fold: _Fold, step: Step, separation: Separation) -> _Fold:
    stay = fold.open
    if stay and separation.host in {stay.host, None}:
        return _taken_off(fold, step, separation, stay)
    if separation.host is None:
        return fold
    earlier = next((s for s in reversed(fold.stays) if s.host == separation.host), None)
    if earlier and not earlier.leaving:
        # it was in two places at once, which has been told; this ends the one
        return fold.changed(earlier, earlier.ended(separation, _stage_of_leaving(fold, step, earlier)))
    if earlier and not stay:
        return fold.clash("removed-twice", step, first=earlier.leaving)
    if stay:
        fold = fold.clash("removed-while-elsewhere", step, other=stay.host, first=stay.placing)
        fold = fold.overtaken(step, stay)
    elif separation.separation_kind not in NEEDS_NO_PLACING:
        fold = fold.clash("removed-from-where-it-never-was", step)
    lying = Lying(None, None, (), fold.shape)
    return fold.began(Stay(fold.piece, separation.host, (), None, (lying,), separation, step.stage))


def _taken_off(fold: _Fold, step: Step, separation: Separation, stay: Stay) -> _Fold:
    first = stay.placing
    undone = separation.undoes
    if separation.host is None and (first is None or undone != first.id):
        fold = fold.clash("removed-without-volume", step, host=stay.host, first=first)
    elif first and undone not in {None, first.id}:
        fold = fold.clash("undoes-another", step, other=undone, first=first)
    return fold.changed(stay, stay.ended(separation, _stage_of_leaving(fold, step, stay)))


def _stage_of_leaving(fold: _Fold, step: Step, stay: Stay) -> int:
    """Give the stage by which the piece was gone; if none is said it was still there when it came."""
    if step.stage is not None and step.stage_said:
        return step.stage
    likely = likely_stage(step.event, stages_of(fold.dossier.host(stay.host)))
    return max(likely, (stay.from_stage or 0) + 1)


def _altered(fold: _Fold, step: Step, alteration: Alteration) -> _Fold:
    shape, stay = altered(fold.shape, alteration), fold.open
    if step.host and (stay is None or stay.host != step.host):
        fold = fold.clash("altered-where-it-was-not", step)
    elif stay and (alteration.positions or shape != fold.shape):
        stage = step.stage or likely_stage(alteration, stages_of(fold.dossier.host(stay.host)))
        positions = alteration.positions or stay.lyings[-1].positions
        lying = Lying(max(stage, stay.from_stage or 0), alteration.id, positions, shape)
        fold = fold.changed(stay, stay.lying_anew(lying))
    return replace(fold, shape=shape)


def _moved(fold: _Fold, step: Step, move: Move) -> _Fold:
    stay = fold.open
    if stay is None:
        return fold
    if move.move_kind not in GONE and move.kept_with != stay.host:
        fold = fold.clash("moved-while-in-a-volume", step, host=stay.host, first=stay.placing)
    return fold.changed(stay, stay.ended(move, _stage_of_leaving(fold, step, stay)))


def _never_returned(fold: _Fold, planned: tuple[Event, ...]) -> tuple[Contradiction, ...]:
    """Tell of a piece that was only lifted for a time, and is nowhere said to be back or to be put back."""
    last = fold.stays[-1] if fold.stays else None
    if (
        last is None
        or not isinstance(last.leaving, Separation)
        or any(isinstance(e, Placing) for e in planned)
    ):
        return ()
    if last.leaving.separation_kind != "lifted-and-returned":
        return ()
    return (told("return-not-recorded", fold.dossier, piece=fold.piece, host=last.host, second=last.leaving),)
