"""What can be seen: a sign is there, is not there though it was looked for, or the record does not tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

State = Literal["seen", "not-seen", "unknown"]


@dataclass(frozen=True, kw_only=True)
class Sign:
    """One sign of a reading: whether it is seen, in words that anyone can check, and on which traces.

    Where the record does not tell, `words` say what to record.
    """

    state: State
    words: str
    traces: tuple[str, ...] = ()

    @property
    def is_seen(self) -> bool:
        """Say whether it is there."""
        return self.state == "seen"

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {"state": self.state, "words": self.words, "traces": list(self.traces)}


def seen(words: str, traces: tuple[str, ...] = ()) -> Sign:
    """Say that a sign is there."""
    return Sign(state="seen", words=words, traces=traces)


def not_seen(words: str, traces: tuple[str, ...] = ()) -> Sign:
    """Say that a sign is not there, though what would show it is recorded."""
    return Sign(state="not-seen", words=words, traces=traces)


def unknown(words: str) -> Sign:
    """Say that the record does not tell, and what to record."""
    return Sign(state="unknown", words=words)


def either(*, there: bool, yes: str, no: str, traces: tuple[str, ...] = ()) -> Sign:
    """Say that a sign is there or not."""
    return seen(yes, traces) if there else not_seen(no, traces)
