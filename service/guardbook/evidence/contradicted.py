"""Statements about time that cannot all hold: the fewest of them, and which one taken back would mend it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from guardbook.evidence.conflicts import Conflict, conflicts_in
from guardbook.evidence.said import Said
from guardbook.evidence.statements import Statement
from guardbook.wording import _, ngettext


@dataclass(frozen=True)
class Contradicted:
    """A smallest set of statements that cannot all hold; each of `mends`, taken back alone, mends it.

    `laws` are what they cannot hold with, and what nobody can take back: nothing is placed before it is made.
    """

    statements: tuple[Statement, ...]
    mends: tuple[Statement, ...]
    laws: tuple[Statement, ...] = ()

    @property
    def records(self) -> frozenset[str]:
        """Give the records that the statements stand in."""
        return frozenset(one.record for one in (*self.statements, *self.laws) if one.record)

    def words(self) -> str:
        """Tell it in sentences: what cannot all hold, and what would mend it."""
        numbered = [f"({number}) {one.words}" for number, one in enumerate(self.statements, start=1)]
        return f"{self.heading()}: {'; '.join(numbered)}. {self.mend_words()}"

    def heading(self) -> str:
        """Say how many statements cannot hold together."""
        count = len(self.statements)
        if count == 2:
            return _("These two cannot both hold")
        return ngettext("This cannot hold", "These {count} cannot all hold", count).format(count=count)

    def mend_words(self) -> str:
        """Say what they cannot hold with, and which single statement, taken back, would mend it."""
        return " ".join(filter(None, (self.law_words(), self._mend_words())))

    def law_words(self) -> str:
        """Tell what nobody can take back; nothing where none of that bears on it."""
        if not self.laws:
            return ""
        told = "; ".join(one.words for one in self.laws)
        return _("Not to be taken back, since it cannot be otherwise: {laws}.").format(laws=told)

    def _mend_words(self) -> str:
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
            "laws": [one.as_json() for one in self.laws],
            "words": self.words(),
        }


def contradicted(said: Said) -> tuple[Contradicted, ...]:
    """Give the contradictions in what is said, those of the fewest statements first."""
    return tuple(
        Contradicted(*(tuple(map(said.statements.__getitem__, keys)) for keys in _keys(found)))
        for found in conflicts_in(said.network, said.laws)
    )


def _keys(found: Conflict) -> tuple[tuple[str, ...], ...]:
    return found.statements, found.mends, found.laws
