"""All pieces that ever were in a volume: when, as what, how they left, and where each of them is today."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from guardbook.binding import stay_words
from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier, piece_of
from guardbook.binding.host_states import HostState, lives_at_host, states_of
from guardbook.binding.layout import layout_clashes, outline_clashes
from guardbook.binding.now import Now, keeper_clash, now_of
from guardbook.binding.ordering import is_planned
from guardbook.binding.replay import Life
from guardbook.binding.stage_order import stage_clashes
from guardbook.binding.stay_json import event_json, stay_json
from guardbook.binding.stays import Stay
from guardbook.records.base import natural_order
from guardbook.records.event import Event
from guardbook.wording import _


@dataclass(frozen=True)
class PieceTold:
    """One piece of a volume: its stays there, and where it is now."""

    piece: str
    stays: tuple[Stay, ...]
    now: Now

    def words(self, dossier: Dossier) -> str:
        """Tell it in a few sentences."""
        return f"{dossier.name(self.piece)}: {self.stays_words(dossier)} {self.now_words(dossier)}"

    def stays_words(self, dossier: Dossier) -> str:
        """Tell in a sentence for each stay as what it was there, and until when."""
        return " ".join(stay_words.stay_summary(stay, dossier) for stay in self.stays)

    def now_words(self, dossier: Dossier) -> str:
        """Tell in one sentence where it is now."""
        return stay_words.now_words(self.now, dossier)

    def as_json(self, dossier: Dossier) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "piece": self.piece,
            "name": dossier.name(self.piece),
            "stays": [stay_json(stay, dossier) for stay in self.stays],
            "now": self.now.as_json(dossier),
        }


@dataclass(frozen=True)
class HostPieces:
    """All pieces ever in one volume, those there first first; planned events and contradictions apart."""

    host: str
    pieces: tuple[PieceTold, ...]
    planned: tuple[Event, ...]
    contradictions: tuple[Contradiction, ...]
    withheld: int
    dossier: Dossier = field(repr=False, compare=False)

    def words(self) -> str:
        """Tell it in plain sentences, one piece a line."""
        lines = [self.dossier.name(self.host)]
        lines += [piece.words(self.dossier) for piece in self.pieces] or [_("No piece is recorded in it.")]
        lines += [stay_words.planned_words(event, self.dossier) for event in self.planned]
        lines += [_("Contradiction: {words}").format(words=clash.words()) for clash in self.contradictions]
        if self.withheld:
            lines.append(stay_words.withheld_words(self.withheld))
        return "\n".join(lines)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "host": self.host,
            "name": self.dossier.name(self.host),
            "pieces": [piece.as_json(self.dossier) for piece in self.pieces],
            "planned": [event_json(event) for event in self.planned],
            "contradictions": [clash.as_json() for clash in self.contradictions],
            "withheldEvents": self.withheld,
            "words": self.words(),
        }


def pieces_of(dossier: Dossier, host: str) -> HostPieces:
    """Work out all pieces that ever were in a volume, from all events at it and all events of each piece."""
    lives = lives_at_host(dossier, host)
    told = [(life, tuple(stay for stay in life.stays if stay.host == host)) for life in lives]
    pieces = [PieceTold(life.piece, stays, now_of(life, dossier)) for life, stays in told if stays]
    return HostPieces(
        host=host,
        pieces=tuple(sorted(pieces, key=_first_there(dossier))),
        planned=tuple(event for event in dossier.events_at_host(host) if is_planned(event)),
        contradictions=tuple(_contradictions(dossier, host, lives, states_of(dossier, host, lives))),
        withheld=dossier.withheld,
        dossier=dossier,
    )


def _first_there(dossier: Dossier) -> Callable[[PieceTold], tuple[object, ...]]:
    return lambda one: (one.stays[0].from_stage or 0, natural_order(dossier.name(one.piece)), one.piece)


def _contradictions(
    dossier: Dossier, host: str, lives: tuple[Life, ...], states: tuple[HostState, ...]
) -> Iterator[Contradiction]:
    """Give what clashes here; a clash of a piece in other volumes only is told with the piece."""
    own = {event.id for event in dossier.events_at_host(host) if piece_of(event)}
    for life in lives:
        yield from (clash for clash in life.contradictions if own & set(clash.events))
        yield from keeper_clash(life, now_of(life, dossier), dossier)
    yield from outline_clashes(dossier, [life.piece for life in lives])
    yield from stage_clashes(dossier, host)
    yield from layout_clashes(states, dossier)
