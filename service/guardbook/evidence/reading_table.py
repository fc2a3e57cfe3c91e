"""Readings as a table: worked out and signed ones side by side, by how far they go."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guardbook.binding.contradictions import sentence
from guardbook.evidence.entered import Entered, with_reason
from guardbook.evidence.evidence import Evidence
from guardbook.evidence.readings import (
    CONTRADICTORY,
    OPEN,
    STATUS,
    Alternative,
    Claim,
    FoundReading,
    status_words,
)
from guardbook.wording import _

ORDER = (CONTRADICTORY, *STATUS.values(), OPEN)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One reading: what it may mean, of what, who reads it so, what is seen, and what else would explain it.

    `standing` are the explanations that are not excluded, `by_itself` how far this reading goes alone where
    that is less than its claim.
    """

    claim: str
    about: str
    by: str
    by_itself: str
    seen: tuple[str, ...]
    excluded: tuple[str, ...]
    standing: tuple[str, ...]
    would_decide: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """The readings of one strength, under its heading."""

    status: str
    heading: str
    lines: tuple[Line, ...]


def reading_table(evidence: Evidence) -> tuple[Group, ...]:
    """Give the readings by strength, the strongest first; what contradicts itself stands before all."""
    lines = [*_worked_out(evidence), *((one.status, _signed(one)) for one in evidence.entered)]
    groups = (
        Group(status, status_words(status), tuple(line for found, line in lines if found == status))
        for status in ORDER
    )
    return tuple(group for group in groups if group.lines)


def _worked_out(evidence: Evidence) -> Iterator[tuple[str, Line]]:
    for claim in evidence.claims:
        for one in claim.readings:
            yield claim.status, _line(claim, one)


def _line(claim: Claim, one: FoundReading) -> Line:
    own = STATUS[one.strength] if one.strength else OPEN
    return Line(
        claim=sentence(claim.words),
        about=claim.subject.name,
        by=_("Worked out from the record ({row} in {file})").format(row=one.row.id, file=one.row.source),
        by_itself="" if own == claim.status else status_words(own),
        seen=tuple(sentence(sign.words) for sign in one.signs if sign.is_seen),
        excluded=tuple(_with_because(other) for other in one.alternatives if other.excluded),
        standing=tuple(_with_because(other) for other in one.alternatives if not other.excluded),
        would_decide=one.would_decide,
    )


def _with_because(other: Alternative) -> str:
    return sentence(f"{other.words} ({other.because})")


def _signed(one: Entered) -> Line:
    reading = one.reading
    return Line(
        claim=one.claim,
        about="",
        by=one.signed(),
        by_itself="",
        seen=one.observations(),
        excluded=tuple(with_reason(other) for other in reading.alternatives if other.excluded),
        standing=tuple(with_reason(other) for other in reading.alternatives if not other.excluded),
        would_decide=(reading.would_decide.rstrip("."),) if reading.would_decide else (),
    )
