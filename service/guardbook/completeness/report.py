"""The answer to a check, as words, as JSON and as a SHACL report."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.completeness.outcome import AnsweredItem, Missing, Outcome
from guardbook.completeness.report_shacl import in_turtle
from guardbook.completeness.report_words import in_words

__all__ = ["AnsweredItem", "Missing", "Report"]


@dataclass(frozen=True, kw_only=True)
class Report(Outcome):
    """What a check found, and three ways to say it."""

    def words(self, language: str = "en") -> str:
        """Give the report as calm plain text, what cannot be got later first; field names in a language."""
        return in_words(self, language)

    def as_json(self) -> dict[str, Any]:
        """Give the report as plain data for JSON."""
        return {
            "stage": self.stage,
            "because": self.because,
            "focus": list(self.focus),
            "complete": self.complete,
            "missing": [item.as_json() for item in self.missing],
            "answered": [item.as_json() for item in self.answered],
            "cautions": list(self.cautions),
            "leftOut": list(self.left_out),
        }

    def as_shacl(self) -> str:
        """Give the report as a standard SHACL validation report in Turtle (W3C SHACL 2017, section 3.6)."""
        return in_turtle(self)
