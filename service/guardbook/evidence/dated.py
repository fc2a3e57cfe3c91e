"""The dates of one volume or piece: its times with their limits, the cases that are open, what clashes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.evidence.contradicted import Contradicted
from guardbook.evidence.limits_of import Limits
from guardbook.wording import _

_A_MONTH = 31


@dataclass(frozen=True, kw_only=True)
class DatedTime:
    """One time of a volume or piece: what it is, what its record states, and its limits."""

    time: str
    record: str
    name: str
    stated: str | None
    limits: Limits

    @property
    def is_plain(self) -> bool:
        """Say whether its record dates it to the month, so that all else need only agree."""
        return bool(self.stated) and self.limits.days is not None and self.limits.days <= _A_MONTH

    def words(self) -> str:
        """Tell it in a line for the name and one for each limit; what is dated to the month needs no more."""
        line = _("{event}: {span}.").format(event=self.name, span=self.limits.span_words())
        if self.stated:
            line = f"{line} {self.stated_words()}"
        if self.is_plain:
            return f"{line} {self.limits.agreement()}"
        return "\n  ".join([line, *self.limits.sentences()])

    def stated_words(self) -> str:
        """Tell what its record states."""
        return _("The record says: {date}.").format(date=self.stated)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "time": self.time,
            "record": self.record,
            "name": self.name,
            "stated": self.stated,
            "span": self.limits.span_words(),
            "limits": [limit.as_json() for limit in self.limits],
        }


@dataclass(frozen=True, kw_only=True)
class Case:
    """What would hold of a time if a piece is original to an assembly, and what if it is not.

    One of the two is None where it contradicts what else is said.
    """

    placing: str
    piece: str
    name: str
    time: str
    time_name: str
    if_original: Limits | None
    otherwise: Limits | None

    def words(self) -> str:
        """Tell both cases, and what would decide between them."""
        return " ".join((self.question(), *self.answers(), self.would_decide()))

    def question(self) -> str:
        """Tell what is open."""
        return _("It is not certain whether {piece} is original to {stage}.").format(
            piece=self.name, stage=self.time_name
        )

    def answers(self) -> tuple[str, str]:
        """Tell what holds if it is original, and if it is not."""
        yes, no = (_case_words(case, self.time_name) for case in (self.if_original, self.otherwise))
        return _("If it is: {case}.").format(case=yes), _("If it is not: {case}.").format(case=no)

    def would_decide(self) -> str:
        """Tell what to look at."""
        return _(
            "What would decide it: whether it lies under or over what is certainly original there (turn-ins, "
            "linings, sewing, paste)."
        )

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        cases = {"ifOriginal": self.if_original, "otherwise": self.otherwise}
        told = {
            key: None
            if case is None
            else {"span": case.span_words(), "limits": [one.as_json() for one in case]}
            for key, case in cases.items()
        }
        return {
            "placing": self.placing,
            "piece": self.piece,
            "time": self.time,
            **told,
            "words": self.words(),
        }


def _case_words(case: Limits | None, name: str) -> str:
    if case is None:
        return _("the statements cannot all hold, so it cannot be so unless one of them is wrong")
    bounds = case.proved_words()
    if not bounds:
        return _("nothing else bounds {stage}").format(stage=name)
    return _("{stage} was {bounds}").format(stage=name, bounds=bounds)


@dataclass(frozen=True, kw_only=True)
class Dating:
    """What is known of the dates of a volume or piece.

    `contradictions` are shown and their statements left out of the limits; `dates_nothing` tells of pieces
    that are older than the text block; `notes` of what could not be used.
    """

    record: str
    name: str
    times: tuple[DatedTime, ...]
    cases: tuple[Case, ...]
    contradictions: tuple[Contradicted, ...]
    dates_nothing: tuple[str, ...]
    notes: tuple[str, ...]

    def time(self, time: str) -> DatedTime | None:
        """Give one of its times, or None."""
        return next((one for one in self.times if one.time == time), None)

    def words(self) -> str:
        """Tell it in plain sentences, line by line."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.name
        for clash in self.contradictions:
            yield _("Contradiction: {words} They are left out of the limits below.").format(
                words=clash.words()
            )
        yield from (one.words() for one in self.times)
        yield from (case.words() for case in self.cases)
        if self.dates_nothing:
            yield self.old_waste_words().format(pieces="; ".join(self.dates_nothing))
        yield from self.notes

    def old_waste_words(self) -> str:
        """Say why old pieces date nothing, with room for the `pieces`."""
        return _(
            "Older than the text block, and so no evidence for when it was bound: {pieces}. At most they "
            "hint where the binder worked."
        )

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "record": self.record,
            "name": self.name,
            "times": [one.as_json() for one in self.times],
            "cases": [one.as_json() for one in self.cases],
            "contradictions": [one.as_json() for one in self.contradictions],
            "datesNothing": list(self.dates_nothing),
            "notes": list(self.notes),
            "words": self.words(),
        }
