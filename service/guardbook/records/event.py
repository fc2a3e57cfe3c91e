"""What all events share: when, by whom, in which order, on what evidence."""

from __future__ import annotations

from typing import Annotated

from guardbook.records import terms
from guardbook.records.base import AgentRef, Record, rdf
from guardbook.records.date_words import date_words
from guardbook.records.values import Date, Integer, Reference, Scheme, Text
from guardbook.wording import speaking

FragmentRef = Annotated[str, Reference(("fragment",))]
HostRef = Annotated[str, Reference(("host",))]
PieceOrHostRef = Annotated[str, Reference(("fragment", "host"))]
ImageRef = Annotated[str, Reference(("image",))]

# what an event is called by where it has no title; each is a term of the list of its own name
_TELLING = ("function", "return_kind", "separation_kind", "alteration_kind", "move_kind")


class Event(Record):
    """Something that happened, or is planned: `status` is planned or done (done where it is not said).

    `sequence` states the order among events of one stage where dates cannot.
    """

    status: Annotated[str, Scheme("status")] | None = rdf()
    when: Date | None = rdf()
    date_reason: Text | None = rdf()
    by: tuple[AgentRef, ...] = rdf(many=True)
    sequence: Integer | None = rdf()
    evidence: Text | None = rdf()

    @property
    def display_title(self) -> str:
        """Give the title, or else what happened and when: `pastedown, 1571`."""
        return self.title or self.in_short() or super().display_title

    def in_short(self, language: str = "en") -> str:
        """Say what happened and when, in a language; nothing where the record does not say it."""
        said = [(name.replace("_", "-"), getattr(self, name, None)) for name in _TELLING]
        labels = [terms.label(scheme, slug, language) for scheme, slug in said if slug]
        with speaking(language):
            when = date_words(self.when) if self.when else ""
        return ", ".join([*labels, *filter(None, [when])])
