"""What a check finds: what is missing, what was answered instead, and everything that goes with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from guardbook.completeness.finding import VIOLATION, Finding


@dataclass(frozen=True, kw_only=True)
class Missing:
    """One thing that is missing, or that stands where it should not.

    `record` is the IRI of the record and `about` that of the record or its part; `field` the JSON name of
    the field, or None; `labels` are its names by language. `later` says whether it can still be got after
    the stage, `accepts` which answers count instead of a value, and `answered` the answer that was given
    but does not count here.
    """

    record: str
    about: str
    field: str | None
    label: str
    labels: Mapping[str, str]
    stage: str
    why: str
    how: str
    later: bool
    accepts: tuple[str, ...]
    severity: str
    message: str
    group: str
    order: int
    finding: Finding
    answered: str = ""

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data for JSON; `severity` is `required` or `recommended`."""
        return {
            "record": self.record,
            "about": self.about,
            "field": self.field,
            "label": self.label,
            "stage": self.stage,
            "message": self.message,
            "why": self.why,
            "how": self.how,
            "later": self.later,
            "accepts": list(self.accepts),
            "severity": "required" if self.severity == VIOLATION else "recommended",
        }


@dataclass(frozen=True, kw_only=True)
class AnsweredItem:
    """One thing a stage asks for that has an answer instead of a value."""

    record: str
    field: str
    label: str
    labels: Mapping[str, str]
    stage: str
    answer: str
    reason: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data for JSON."""
        return {
            "record": self.record,
            "field": self.field,
            "label": self.label,
            "stage": self.stage,
            "answer": self.answer,
            "reason": self.reason,
        }


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What a check found, before it is put into words.

    `focus` are the records that were asked about, `because` says why this stage, `titles` gives the names
    of records, `cautions` what to mind before doing what is asked, `left_out` the workshop's shapes files
    that could not be used.
    """

    stage: str
    focus: tuple[str, ...]
    missing: tuple[Missing, ...]
    answered: tuple[AnsweredItem, ...]
    because: str = ""
    titles: Mapping[str, str] = field(default_factory=dict)
    cautions: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def complete(self) -> bool:
        """Say whether nothing that is required is missing; what is only recommended does not count."""
        return not any(item.severity == VIOLATION for item in self.missing)
