"""Options weighed by criteria, a linear model: the ranking, and which weight would change it, exactly.

An option's worth is the sum of its scores, each times the weight of its criterion, over the sum of weights.
All is worked out in fractions, so that a tie is a tie.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Any


@dataclass(frozen=True)
class Weighing:
    """Weights by criterion, and scores by option and criterion; every option has a score by each of them."""

    weights: Mapping[str, Fraction]
    scores: Mapping[str, Mapping[str, Fraction]]

    def sum_of(self, option: str) -> Fraction:
        """Give the weighted sum of an option's scores."""
        return sum((self.weights[name] * self.scores[option][name] for name in self.weights), Fraction())

    def worth(self, option: str) -> Fraction:
        """Give the weighted mean of an option's scores; 0 where nothing weighs."""
        total = sum(self.weights.values(), Fraction())
        return self.sum_of(option) / total if total else Fraction()

    def ranking(self) -> tuple[tuple[str, ...], ...]:
        """Give the options, best first; those of equal worth stand together."""
        sums: dict[Fraction, list[str]] = {}
        for option in self.scores:
            sums.setdefault(self.sum_of(option), []).append(option)
        return tuple(tuple(sums[worth]) for worth in sorted(sums, reverse=True))

    def changes(self) -> tuple[Change, ...]:
        """Give, for each criterion and direction, the nearest weight at which the order of options changes.

        And the nearest at which the first place does, where that is another.
        """
        return tuple(change for name in self.weights for change in self._changes_by(name))

    def _changes_by(self, criterion: str) -> Iterator[Change]:
        turns = sorted(self._turns(criterion), key=lambda turn: abs(turn.by))
        for sign in (1, -1):
            there = [turn for turn in turns if turn.by * sign > 0]
            first = next((turn for turn in there if turn.first), None)
            nearest = there[0] if there else None
            yield from dict.fromkeys(turn for turn in (nearest, first) if turn)

    def _turns(self, criterion: str) -> Iterator[Change]:
        """Give every weight of a criterion at which two options come to be of equal worth."""
        weight = self.weights[criterion]
        for one, two in combinations(self.scores, 2):
            steeper = self.scores[one][criterion] - self.scores[two][criterion]
            gap = self.sum_of(one) - self.sum_of(two)
            if not steeper or not gap:
                continue
            change = -gap / steeper
            if weight + change < 0:
                continue
            ahead, behind = (one, two) if gap > 0 else (two, one)
            there = Weighing({**self.weights, criterion: weight + change}, self.scores)
            yield Change(
                criterion, weight, weight + change, ahead, behind, first=self._first_changes(there, behind)
            )

    def _first_changes(self, there: Weighing, behind: str) -> bool:
        """Say whether an option that is not among the first now is among them there."""
        return behind in there.ranking()[0] and behind not in self.ranking()[0]


@dataclass(frozen=True)
class Change:
    """At the weight `to` of a criterion `behind` draws level with `ahead`; beyond it, it passes.

    `first` says that it draws level for the first place.
    """

    criterion: str
    weight: Fraction
    to: Fraction
    ahead: str
    behind: str
    first: bool

    @property
    def by(self) -> Fraction:
        """Give by how much the weight would have to change."""
        return self.to - self.weight

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data; weights as decimals, and exactly as fractions."""
        return {
            "criterion": self.criterion,
            "weight": float(self.weight),
            "to": float(self.to),
            "exactly": str(self.to),
            "by": float(self.by),
            "ahead": self.ahead,
            "behind": self.behind,
            "first": self.first,
        }


def number(value: Fraction) -> str:
    """Write a fraction as a decimal of two places, without zeros at its end.

    >>> number(Fraction(7, 2)), number(Fraction(1, 3)), number(Fraction(4))
    ('3.5', '0.33', '4')
    """
    return f"{float(value):.2f}".rstrip("0").rstrip(".")


def complete(
    weights: Mapping[str, Fraction], scores: Mapping[tuple[str, str], Fraction], options: Sequence[str]
) -> tuple[Weighing, tuple[str, ...]]:
    """Give what can be weighed, and the criteria by which not every option has a score and so none counts."""
    whole = [name for name in weights if all((option, name) in scores for option in options)]
    found = {option: {name: scores[option, name] for name in whole} for option in options}
    return Weighing({name: weights[name] for name in whole}, found), tuple(
        n for n in weights if n not in whole
    )
