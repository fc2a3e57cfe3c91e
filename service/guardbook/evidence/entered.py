"""Readings that a person entered: they stand beside what is worked out, signed and dated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.evidence.readings import OPEN, STATUS, status_words
from guardbook.records.date_words import date_words
from guardbook.records.reading import Alternative as EnteredAlternative
from guardbook.records.reading import Reading
from guardbook.wording import _


@dataclass(frozen=True)
class Entered:
    """One reading of a person's, and who that is."""

    reading: Reading
    by: str

    @property
    def status(self) -> str:
        """Say how strong the person holds it to be, as the status of a claim."""
        return STATUS.get(self.reading.strength or "", OPEN)

    @property
    def claim(self) -> str:
        """Give what the person reads from it."""
        return (self.reading.claim or self.reading.display_title).rstrip(".")

    def signed(self) -> str:
        """Say who entered it, and when."""
        if not self.reading.when:
            return _("Entered by {name} [{record}]").format(name=self.by, record=self.reading.short)
        return _("Entered by {name}, {date} [{record}]").format(
            name=self.by, date=date_words(self.reading.when), record=self.reading.short
        )

    def words(self) -> str:
        """Tell it in a few sentences, with its observations and alternatives."""
        reading = self.reading
        held = status_words(self.status) if reading.strength else _("of no stated strength")
        lines = [f"{self.signed()}. {held}: {self.claim}."]
        lines += ["  " + _("Seen: {observation}.").format(observation=text) for text in self.observations()]
        lines += [f"  {self.alternative_words(other)}" for other in reading.alternatives]
        if reading.would_decide:
            lines.append("  " + _("Would decide it: {words}").format(words=reading.would_decide))
        return "\n".join(lines)

    def observations(self) -> tuple[str, ...]:
        """Give what the person saw."""
        return tuple(one.text.rstrip(".") for one in self.reading.observations)

    def alternative_words(self, other: EnteredAlternative) -> str:
        """Tell another explanation, and whether the person excludes it."""
        told = {
            True: _("Another explanation, excluded: {words}."),
            False: _("Another explanation, not excluded: {words}."),
            None: _("Another explanation, not judged: {words}."),
        }
        return told[other.excluded].format(words=with_reason(other))

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        reading = self.reading
        return {
            "reading": reading.id,
            "claim": reading.claim,
            "strength": reading.strength,
            "by": self.by,
            "when": reading.when,
            "observations": [one.text for one in reading.observations],
            "alternatives": [
                {"words": one.text, "excluded": one.excluded, "reason": one.reason}
                for one in reading.alternatives
            ],
            "wouldDecide": reading.would_decide,
            "words": self.words(),
        }


def with_reason(other: EnteredAlternative) -> str:
    """Give another explanation with the reason for judging it so."""
    reason = f" ({other.reason.rstrip('.')})" if other.reason else ""
    return f"{other.text.rstrip('.')}{reason}"


def entered_about(dossier: Dossier, iri: str) -> tuple[Entered, ...]:
    """Give the readings that people entered about a record, oldest first."""
    found = [r for r in dossier.records.values() if isinstance(r, Reading) and iri in r.about]
    found.sort(key=lambda reading: (reading.when or "", reading.id))
    return tuple(
        Entered(reading, dossier.name(reading.by) if reading.by else _("someone who is not named"))
        for reading in found
    )
