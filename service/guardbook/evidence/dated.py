"""The dates of one volume or piece: its times with their limits, the cases that are open, what clashes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.evidence.contradicted import Contradicted
from guardbook.evidence.limits_of import Limits
from guardbook.records.base import natural_order

_A_MONTH = 31


@dataclass(frozen=True, kw_only=True)
class DatedTime:
    """One time of a volume or piece: what it is, what its record states, and its limits."""

    time: str
    record: str
    name: str
    stated: str | None
    limits: Limits

    def words(self) -> str:
        """Tell it in a line for the name and one for each limit; what is dated to the month needs no more."""
        stated = f" The record says: {self.stated}." if self.stated else ""
        line = f"{self.name}: {self.limits.span_words()}.{stated}"
        if self.stated and self.limits.days is not None and self.limits.days <= _A_MONTH:
            return f"{line} {self.limits.agreement()}"
        return "\n  ".join([line, *self.limits.sentences()])

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
        yes, no = (_case_words(case, self.time_name) for case in (self.if_original, self.otherwise))
        return (
            f"It is not certain whether {self.name} is original to {self.time_name}. If it is, {yes}; "
            f"if it is not, {no}. What would decide it: whether it lies under or over what is certainly "
            "original there (turn-ins, linings, sewing, paste)."
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
        return "the statements cannot all hold, so it cannot be so unless one of them is wrong"
    proved = [limit for limit in case if limit.proved]
    told = " and ".join(f"{limit.side} {limit.date}" for limit in proved)
    return f"{name} was {told}" if told else f"nothing else bounds {name}"


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
            yield f"Contradiction: {clash.words()} They are left out of the limits below."
        yield from (one.words() for one in self.times)
        yield from (case.words() for case in self.cases)
        if self.dates_nothing:
            listed = "; ".join(sorted(self.dates_nothing, key=natural_order))
            yield (
                f"Older than the text block, and so no evidence for when it was bound: {listed}. "
                "At most they hint where the binder worked."
            )
        yield from self.notes

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
