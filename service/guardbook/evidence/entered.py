"""Readings that a person entered: they stand beside what is worked out, signed and dated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.binding.dossier import Dossier
from guardbook.evidence.date_words import date_words
from guardbook.evidence.readings import STATUS
from guardbook.records.reading import Reading


@dataclass(frozen=True)
class Entered:
    """One reading of a person's, and who that is."""

    reading: Reading
    by: str

    @property
    def status(self) -> str:
        """Say how strong the person holds it to be."""
        return STATUS.get(self.reading.strength or "", "of no stated strength")

    def words(self) -> str:
        """Tell it in a few sentences, with its observations and alternatives."""
        reading = self.reading
        when = f", {date_words(reading.when)}" if reading.when else ""
        claim = (reading.claim or reading.display_title).rstrip(".")
        lines = [f"Entered by {self.by}{when} [{reading.short}], held to be {self.status}: {claim}."]
        lines += [f"  Seen: {one.text}" for one in reading.observations]
        for other in reading.alternatives:
            how = {True: "excluded", False: "not excluded", None: "not judged"}[other.excluded]
            reason = f" ({other.reason.rstrip('.')})" if other.reason else ""
            lines.append(f"  Another explanation, {how}: {other.text.rstrip('.')}{reason}.")
        if reading.would_decide:
            lines.append(f"  Would decide it: {reading.would_decide}")
        return "\n".join(lines)

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


def entered_about(dossier: Dossier, iri: str) -> tuple[Entered, ...]:
    """Give the readings that people entered about a record, oldest first."""
    found = [r for r in dossier.records.values() if isinstance(r, Reading) and iri in r.about]
    found.sort(key=lambda reading: (reading.when or "", reading.id))
    return tuple(
        Entered(reading, dossier.name(reading.by) if reading.by else "someone who is not named")
        for reading in found
    )
