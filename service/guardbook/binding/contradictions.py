"""What cannot all be true, told as data: which records clash, what was found, and how to mend it.

A contradiction is a result that is shown to the person. Nothing is dropped or put right because of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.records.date_words import date_words
from guardbook.records.event import Event
from guardbook.wording import _, said_later

# for each kind: what was found, and how to mend it
TELLINGS: MappingProxyType[str, tuple[str, str]] = MappingProxyType(
    {
        "placed-while-elsewhere": (
            said_later("{piece} was placed in {host} by {second} while it was still in {other} by {first}."),
            said_later("Record when and how it left {other}, or correct one of the two."),
        ),
        "removed-from-where-it-never-was": (
            said_later("{second} takes {piece} out of {host}, but nothing says that it was there."),
            said_later("Record its placing in {host}, or correct the volume or the kind of this separation."),
        ),
        "removed-while-elsewhere": (
            said_later(
                "{second} takes {piece} out of {host}, but {first} had put it in {other}, and it had not "
                "left."
            ),
            said_later("Correct the volume of one of the two, or record what happened between them."),
        ),
        "removed-twice": (
            said_later("{second} takes {piece} out of {host}, which it had already left by {first}."),
            said_later("Record how it came back in between, or take out one of the two."),
        ),
        "undoes-another": (
            said_later(
                "{second} says that it undoes {other}, but it was {first} that had put {piece} in {host}."
            ),
            said_later("Correct what it undoes, or the order of the stages."),
        ),
        "removed-without-volume": (
            said_later(
                "{second} names no volume, but {first} had put {piece} in {host}, and it had not left."
            ),
            said_later("Say which volume and stage the separation belongs to."),
        ),
        "altered-where-it-was-not": (
            said_later("{second} altered {piece} in {host}, where it was not at that time."),
            said_later("Take the volume out of the alteration, or correct its stage or date."),
        ),
        "moved-while-in-a-volume": (
            said_later("{second} moved {piece} while it was still in {host}, where {first} had put it."),
            said_later("Record the separation first; if it was the volume that moved, say so in the move."),
        ),
        "return-not-recorded": (
            said_later(
                "{second} says that {piece} was lifted and returned to {host}, but no placing puts it back."
            ),
            said_later("Record the placing that put it back, or change the kind of the separation."),
        ),
        "stage-not-there": (
            said_later("{second} leads to a stage that {host} does not have."),
            said_later("Add the stage to the volume, or name one of its stages."),
        ),
        "stages-against-dates": (
            said_later(
                "In {host}, {after} comes after {before} by the order of the stages, but is dated before it."
            ),
            said_later("Correct one of the dates, or the order of the stages."),
        ),
        "overlap-on-one-layer": (
            said_later(
                "{piece} and {other} are both on layer {layer} {plane} in {host}, and overlap by {size}."
            ),
            said_later("Measure again, or say which of the two lies over the other."),
        ),
        "beyond-the-plane": (
            said_later("{piece} reaches {size} beyond the {edge} of its plane ({plane}) in {host}."),
            said_later("Measure its place and the plane again, or record where it folds over."),
        ),
        "outline-unusable": (
            said_later("The outline of {piece} bounds no area that could be drawn."),
            said_later("Draw it again: its corners in order, in mm, the last one like the first."),
        ),
        "kept-in-two-places": (
            said_later("The record of {piece} says it is kept at {other}, but {second} says {host}."),
            said_later("Correct the keeper in the record, or record the move."),
        ),
    }
)


@dataclass(frozen=True)
class Contradiction:
    """One contradiction: its kind, the IRIs of the records it is about, and of the events that clash."""

    kind: str
    about: tuple[str, ...]
    events: tuple[str, ...]
    found: str
    mend: str

    def words(self) -> str:
        """Tell it in two sentences."""
        return f"{self.found} {self.mend}"

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "kind": self.kind,
            "about": list(self.about),
            "events": list(self.events),
            "found": self.found,
            "mend": self.mend,
        }


def told(
    kind: str,
    dossier: Dossier,
    *,
    piece: str | None = None,
    host: str | None = None,
    other: str | None = None,
    first: Event | None = None,
    second: Event | None = None,
    **words: str,
) -> Contradiction:
    """Tell a contradiction of a kind; `piece`, `host` and `other` are IRIs, and are called by their names.

    `words` fill what else the telling of the kind has room for.
    """
    names = {
        **{key: dossier.name(iri) for key, iri in (("piece", piece), ("host", host), ("other", other))},
        **{key: event_words(event) for key, event in (("first", first), ("second", second)) if event},
        **words,
    }
    found, mend = (sentence(_(text).format_map(names)) for text in TELLINGS[kind])
    return Contradiction(
        kind=kind,
        about=tuple(iri for iri in (piece, host, other) if iri),
        events=tuple(event.id for event in (first, second) if event),
        found=found,
        mend=mend,
    )


def event_words(event: Event) -> str:
    """Call an event by what it is, its date and its identifier: `the placing of 1510 [placing/7K3QM2-J]`."""
    if not event.when:
        return undated_words(event)
    called = {
        "placing": _("the placing of {date} [{record}]"),
        "separation": _("the separation of {date} [{record}]"),
        "alteration": _("the alteration of {date} [{record}]"),
        "move": _("the move of {date} [{record}]"),
    }
    return called[event.kind].format(date=date_words(event.when), record=event.short)


def undated_words(event: Event) -> str:
    """Call an event by what it is and its identifier."""
    called = {
        "placing": _("the placing [{record}]"),
        "separation": _("the separation [{record}]"),
        "alteration": _("the alteration [{record}]"),
        "move": _("the move [{record}]"),
    }
    return called[event.kind].format(record=event.short)


def sentence(text: str) -> str:
    """Begin a sentence with a capital letter, whatever name it begins with."""
    return text[:1].upper() + text[1:]
