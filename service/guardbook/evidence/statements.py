"""What the records say about time, one statement at a time, so that each can be checked and taken back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Statement:
    """One thing that a record says: a date, or what follows from it by a rule.

    `words` are a clause, `record` is the IRI of the record to check it in. What is `silent` goes without
    saying where the bounds of a date are told; what `says_little` is true, but of little use.
    """

    key: str
    record: str
    words: str
    rule: str
    reason: str = ""
    silent: bool = False
    says_little: bool = False

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "key": self.key,
            "record": self.record,
            "words": self.words,
            "rule": self.rule,
            "reason": self.reason,
        }
