"""Statements about time that cannot all hold: the fewest of them, and which one taken back would mend it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.evidence.conflicts import conflicts_in
from guardbook.evidence.said import Said
from guardbook.evidence.statements import Statement
from guardbook.wording import _, ngettext


@dataclass(frozen=True)
class Contradicted:
    """A smallest set of statements that cannot all hold; each of `mends`, taken back alone, mends it."""

    statements: tuple[Statement, ...]
    mends: tuple[Statement, ...]

    @property
    def records(self) -> frozenset[str]:
        """Give the records that the statements stand in."""
        return frozenset(one.record for one in self.statements if one.record)

    def words(self) -> str:
        """Tell it in sentences: what cannot all hold, and what would mend it."""
        numbered = [f"({number}) {one.words}" for number, one in enumerate(self.statements, start=1)]
        return f"{self.heading()}: {'; '.join(numbered)}. {self.mend_words()}"

    def heading(self) -> str:
        """Say how many statements cannot hold together."""
        count = len(self.statements)
        return ngettext("This cannot hold", "These {count} cannot all hold", count).format(count=count)

    def mend_words(self) -> str:
        """Say which single statement, taken back, would mend it."""
        which = [f"({number})" for number, one in enumerate(self.statements, start=1) if one in self.mends]
        if not which:
            return _("No single one of them, taken back, would mend it: other statements say the same.")
        *others, last = which
        listed = _("{others} or {last}").format(others=", ".join(others), last=last) if others else last
        return _(
            "Taking back {listed} alone would mend it. Which of them is wrong, the records cannot tell."
        ).format(listed=listed)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "statements": [one.as_json() for one in self.statements],
            "mends": [one.key for one in self.mends],
            "words": self.words(),
        }


def contradicted(said: Said) -> tuple[Contradicted, ...]:
    """Give the contradictions in what is said, those of the fewest statements first."""
    return tuple(
        Contradicted(
            tuple(said.statements[key] for key in found.statements),
            tuple(said.statements[key] for key in found.mends),
        )
        for found in conflicts_in(said.network)
    )
