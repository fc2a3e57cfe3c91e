"""Readings of what is seen: each row of evidence put to each subject, and what follows for each claim."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from guardbook.evidence.reading_rows import Looked, Other, Row
from guardbook.evidence.sign_table import look
from guardbook.evidence.signs import Sign, not_seen, seen
from guardbook.evidence.subjects import Subject
from guardbook.wording import _

# from the strongest for a claim to the strongest against it; each is told by `status_words`
STATUS = {
    "settles": "settled",
    "points-to": "pointed to",
    "fits": "merely fitting",
    "speaks-against": "spoken against",
    "rules-out": "ruled out",
}
# answers a SPARQL ASK about a record
Ask = Callable[[str, str], bool]


OPEN, CONTRADICTORY = "open", "contradictory"


def status_words(status: str) -> str:
    """Say how a claim stands, as a heading does."""
    return {
        "settled": _("Settled"),
        "pointed to": _("Pointed to"),
        "merely fitting": _("Merely fitting"),
        "spoken against": _("Spoken against"),
        "ruled out": _("Ruled out"),
        CONTRADICTORY: _("Contradictory: what settles it and what rules it out are both seen"),
        OPEN: _("Open"),
    }[status]


@dataclass(frozen=True, kw_only=True)
class Alternative:
    """Another explanation: excluded or not (None where neither is shown), why, and what would decide."""

    words: str
    excluded: bool | None
    because: str
    decide: str

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "words": self.words,
            "excluded": self.excluded,
            "because": self.because,
            "wouldDecide": self.decide,
        }


@dataclass(frozen=True, kw_only=True)
class FoundReading:
    """What one row says of one subject: its strength here, None where signs are not recorded."""

    row: Row
    subject: Subject
    strength: str | None
    signs: tuple[Sign, ...]
    alternatives: tuple[Alternative, ...]

    @property
    def would_decide(self) -> tuple[str, ...]:
        """Say which further observations would decide it."""
        missing = [sign.words for sign in self.signs if sign.state == "unknown"]
        others = [one.decide for one in self.alternatives if one.excluded is None]
        own = [] if self.strength in {"settles", "rules-out"} or not self.row.decide else [_(self.row.decide)]
        return tuple(dict.fromkeys(words for words in (*missing, *others, *own) if words))

    def observed(self) -> str:
        """Tell what is seen."""
        return "; ".join(sign.words for sign in self.signs if sign.is_seen)

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "row": self.row.id,
            "source": self.row.source,
            "strength": self.strength,
            "signs": [sign.as_json() for sign in self.signs],
            "alternatives": [one.as_json() for one in self.alternatives],
            "wouldDecide": list(self.would_decide),
        }


def not_looked_for(subject: Subject, rows: Iterable[Row]) -> Iterator[str]:
    """Say what to record so that rows of which no sign is known yet could be judged."""
    for row in rows:
        if row.about == subject.about and row.ask is None:
            signs = [_look(subject, sign) for sign in row.signs]
            if all(sign.state == "unknown" for sign in signs):
                yield from (sign.words for sign in signs)


def readings(subject: Subject, rows: Iterable[Row], ask: Ask) -> Iterator[FoundReading]:
    """Put every row about this kind of subject to it; what has no sign seen gives no reading."""
    for row in rows:
        if row.about != subject.about:
            continue
        signs = _signs(subject, row, ask)
        if not any(sign.is_seen for sign in signs) or any(sign.state == "not-seen" for sign in signs):
            continue
        alternatives = tuple(_alternative(subject, other) for other in row.alternatives)
        complete = all(sign.is_seen for sign in signs)
        yield FoundReading(
            row=row,
            subject=subject,
            strength=_strength(row, alternatives) if complete else None,
            signs=signs,
            alternatives=alternatives,
        )


def _signs(subject: Subject, row: Row, ask: Ask) -> tuple[Sign, ...]:
    if row.ask is None:
        return tuple(_look(subject, sign) for sign in row.signs)
    there = [iri for iri in subject.records if ask(row.ask, iri)]
    return (seen(_(row.observation), tuple(there)) if there else not_seen(_(row.observation)),)


def _look(subject: Subject, sign: Looked) -> Sign:
    return look(subject, sign.see, dict(sign.measures))


def _alternative(subject: Subject, other: Other) -> Alternative:
    excluded, because = None, _("nothing recorded excludes it")
    if other.stands:
        sign = _look(subject, other.stands)
        excluded = {"seen": False, "not-seen": True, "unknown": None}[sign.state]
        because = sign.words
    elif other.excluded:
        sign = _look(subject, other.excluded)
        excluded = True if sign.is_seen else None
        because = sign.words
    return Alternative(
        words=_(other.words),
        excluded=excluded,
        because=because,
        decide=_(other.decide) if other.decide else "",
    )


def _strength(row: Row, alternatives: Iterable[Alternative]) -> str:
    """Lower the strength of a row by what else would explain its signs."""
    pairs = list(zip(row.alternatives, alternatives, strict=True))
    standing = [other.against for other, found in pairs if found.excluded is False]
    if standing:
        return max(standing, key=list(STATUS).index)
    if row.strength == "settles" and any(found.excluded is None for _, found in pairs):
        return "points-to"
    return row.strength


@dataclass(frozen=True, kw_only=True)
class Claim:
    """A claim about a subject, with all readings that bear on it; several weak ones stay weak."""

    claim: str
    words: str
    subject: Subject
    readings: tuple[FoundReading, ...]

    @property
    def status(self) -> str:
        """Say how it stands: the strongest single reading counts, and nothing is added up."""
        strengths = {one.strength for one in self.readings if one.strength}
        if {"settles", "rules-out"} <= strengths:
            return CONTRADICTORY
        if "rules-out" in strengths:
            return "ruled out"
        strongest = min(strengths, key=list(STATUS).index, default=None)
        return STATUS[strongest] if strongest else OPEN


def claims(found: Iterable[FoundReading]) -> tuple[Claim, ...]:
    """Gather readings by what they claim of which subject, the best founded first."""
    groups: dict[tuple[str, tuple[str, ...], str], list[FoundReading]] = {}
    for one in found:
        groups.setdefault((one.row.claim, one.subject.records, one.subject.name), []).append(one)
    told = [
        Claim(
            claim=readings[0].row.claim,
            words=_(readings[0].row.claim_words),
            subject=readings[0].subject,
            readings=tuple(_without_weaker(readings)),
        )
        for readings in groups.values()
    ]
    order = [*STATUS.values(), CONTRADICTORY, OPEN]
    return tuple(sorted(told, key=lambda claim: (order.index(claim.status), claim.words, claim.subject.name)))


def _without_weaker(readings: list[FoundReading]) -> Iterator[FoundReading]:
    """Leave out a reading that sees no more than a stronger one does, or an earlier one as strong.

    One whose signs are not all recorded is the weakest, and need see only a part of what another sees.
    """
    ranked = [(_rank(one), at, one) for at, one in enumerate(readings)]
    for rank, at, one in ranked:
        before = [other for other_rank, place, other in ranked if (other_rank, place) < (rank, at)]
        seen_now = _seen(one)
        if not any(seen_now == _seen(o) or (not one.strength and seen_now < _seen(o)) for o in before):
            yield one


def _rank(one: FoundReading) -> int:
    return list(STATUS).index(one.strength) if one.strength else len(STATUS)


def _seen(one: FoundReading) -> frozenset[str]:
    return frozenset(sign.words for sign in one.signs if sign.is_seen)
