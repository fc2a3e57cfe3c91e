"""What can be examined only while a piece is lifted, what has been, and what will be out of reach.

The cautions defer to local regulations, the safety data sheet and a qualified person.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pyoxigraph as ox

from guardbook import settings
from guardbook.binding.contradictions import event_words, sentence
from guardbook.binding.dossier import Dossier, host_of
from guardbook.binding.ordering import is_planned
from guardbook.completeness.cautions import cautions_about
from guardbook.errors import WrongUse
from guardbook.evidence.done import allowed_for, examined
from guardbook.evidence.examination_table import ExaminationRow, examination_table
from guardbook.evidence.fates import GOES_BACK, IS_BACK, OPEN, fate_of
from guardbook.evidence.situations import quoted
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.mapping import to_quads
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _

# in this order: what presses, what is settled, what can wait; each is told by `heading`
STATES = ("only-now", "limited-after", "decided", "done", "out-of-reach", "limited", "later")


def heading(state: str) -> str:
    """Say how the examinations of a state stand."""
    return {
        "only-now": _("Only while it is lifted"),
        "limited-after": _("While it is lifted, since only in part afterwards"),
        "decided": _("Decided on"),
        "done": _("Done"),
        "out-of-reach": _("Out of reach since it went back"),
        "limited": _("Possible in part"),
        "later": _("Possible later too"),
    }[state]


@dataclass(frozen=True, kw_only=True)
class Examination:
    """One examination of a piece: how it stands, in a sentence."""

    row: ExaminationRow
    state: str
    words: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "examination": self.row.slug,
            "label": self.row.label,
            "needs": _(self.row.needs),
            "onceBack": self.row.once_back,
            "state": self.state,
            "words": self.words,
        }


@dataclass(frozen=True, kw_only=True)
class Examinations:
    """The examinations that a removal or a return bears on, what presses first, and what to mind.

    `fate` is what becomes of the piece afterwards (see `fates`).
    """

    event: str
    piece: str
    name: str
    fate: str
    examinations: tuple[Examination, ...]
    cautions: tuple[str, ...]

    @property
    def goes_back(self) -> bool:
        """Say whether the piece is back, goes back, or may."""
        return self.fate in {IS_BACK, GOES_BACK, OPEN}

    @property
    def note(self) -> str:
        """Say so where it is open whether the piece goes back; nothing where that is known."""
        if self.fate != OPEN:
            return ""
        return _(
            "Whether it goes back is not recorded. If it does, most of it is out of reach again, so do what "
            "is wanted while it is lifted."
        )

    def in_state(self, state: str) -> tuple[Examination, ...]:
        """Give those that stand so."""
        return tuple(one for one in self.examinations if one.state == state)

    def words(self) -> str:
        """Tell it in plain sentences, what presses first."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.name
        if self.note:
            yield self.note
        for state in STATES:
            if found := self.in_state(state):
                yield f"{heading(state)}:"
                yield from (f"  {one.words}" for one in found)
        if self.cautions:
            yield _("To mind (none of it replaces training):")
            yield from (f"  {caution}" for caution in self.cautions)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "event": self.event,
            "piece": self.piece,
            "name": self.name,
            "goesBack": self.goes_back,
            "note": self.note,
            "examinations": [one.as_json() for one in self.examinations],
            "cautions": list(self.cautions),
            "words": self.words(),
        }


def examinations_of(dossier: Dossier, event: Record) -> Examinations:
    """Say what can be examined, for a removal or return, planned or done. Raises WrongUse for other events.

    The table of examinations is common practice, no published source (`shapes/examinations.toml`).
    """
    if not isinstance(event, Separation | Placing):
        told = _("{record} is neither a removal nor a return of a piece.")
        raise WrongUse(message=told.format(record=event.short))
    fate = fate_of(dossier, event)
    done = examined(dossier, event.piece)
    decided = allowed_for((event, *dossier.events_of_piece(event.piece)))
    covered = _is_covered(event)
    found = [
        _examination(
            row,
            done.get(row.slug),
            decided=row.slug in decided,
            goes_back=fate in {GOES_BACK, OPEN} or (row.on_host and covered),
            is_back=fate == IS_BACK,
        )
        for row in examination_table()
    ]
    return Examinations(
        event=event.id,
        piece=event.piece,
        name=_name(dossier, event),
        fate=fate,
        examinations=tuple(sorted(found, key=lambda one: STATES.index(one.state))),
        cautions=cautions_about(_terms(dossier, event), _quads(dossier, event)),
    )


def _name(dossier: Dossier, event: Separation | Placing) -> str:
    told = _("Planned: {event}, {piece}") if is_planned(event) else _("{event}, {piece}")
    return sentence(told.format(event=event_words(event), piece=quoted(dossier.name(event.piece))))


def _is_covered(event: Separation | Placing) -> bool:
    """Say whether something took the place of a removed piece, or may still take it."""
    if not isinstance(event, Separation):
        return False
    return is_planned(event) if event.replaced_by is None else event.replaced_by != "nothing"


def _examination(
    row: ExaminationRow, done: str | None, *, decided: bool, goes_back: bool, is_back: bool
) -> Examination:
    state = _state(row, done=done is not None, decided=decided, goes_back=goes_back, is_back=is_back)
    words = _("{examination} (needs {needs})").format(examination=row.label, needs=_(row.needs))
    if done:
        words = f"{row.label}: {done}"
    elif row.once_back == "limited" and (goes_back or is_back):
        told = (
            _("{examination}; now that it is back, {limited}")
            if is_back
            else _("{examination}; once it is back, {limited}")
        )
        words = told.format(examination=words, limited=_(row.limited))
    elif row.on_host and state == "only-now":
        words = _("{examination}, before its place in the volume is covered again").format(examination=words)
    return Examination(row=row, state=state, words=f"{sentence(words)}.")


def _state(row: ExaminationRow, *, done: bool, decided: bool, goes_back: bool, is_back: bool) -> str:
    if done:
        return "done"
    if is_back and row.once_back != "yes":
        return "out-of-reach" if row.once_back == "no" else "limited"
    if row.once_back == "yes" or not goes_back:
        return "decided" if decided else "later"
    if decided:
        return "decided"
    return "only-now" if row.once_back == "no" else "limited-after"


def _terms(dossier: Dossier, event: Separation | Placing) -> Iterator[str]:
    """Give the terms that may call for a caution: methods, all examinations, functions, materials."""
    yield settings.NAMESPACE + "Separation"
    methods = event.methods if isinstance(event, Separation) else ()
    yield from (f"{settings.TERMS}method/{method}" for method in methods)
    yield from (f"{settings.TERMS}examination/{row.slug}" for row in examination_table())
    for other in dossier.events_of_piece(event.piece):
        if isinstance(other, Placing) and other.function:
            yield f"{settings.TERMS}function/{other.function}"
    piece = dossier.piece(event.piece)
    if piece and piece.material:
        yield f"{settings.TERMS}material/{piece.material}"


def _quads(dossier: Dossier, event: Separation | Placing) -> Iterator[ox.Quad]:
    """Give the texts that may call for a caution: of the piece and its volumes, and of what was done."""
    of_piece = dossier.events_of_piece(event.piece)
    hosts = {host for one in (event, *of_piece) if (host := host_of(one))}
    altered = (
        one for host in sorted(hosts) for one in dossier.events_at_host(host) if _is_altered(one, host)
    )
    records = (dossier.piece(event.piece), *map(dossier.host, sorted(hosts)), event, *of_piece, *altered)
    for record in {one.id: one for one in records if one}.values():
        yield from (quad for quad in to_quads(record) if isinstance(quad.object, ox.Literal))


def _is_altered(event: Event, host: str) -> bool:
    return isinstance(event, Alteration) and event.target == host
