"""What the observations on a volume or piece may mean, how far it is proved, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pyoxigraph as ox

from guardbook.binding.dossier import Dossier
from guardbook.errors import NotFound
from guardbook.evidence.dating import not_shown
from guardbook.evidence.entered import Entered, entered_about
from guardbook.evidence.reading_rows import reading_rows
from guardbook.evidence.readings import (
    Alternative,
    Ask,
    Claim,
    FoundReading,
    claims,
    not_looked_for,
    readings,
    status_words,
)
from guardbook.evidence.subjects import subjects_of_host, subjects_of_piece
from guardbook.records.mapping import to_quads
from guardbook.wording import _


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """The claims about a volume or piece, worked out and entered by people.

    `to_look_for` says what is not recorded yet and would give a reading, `notes` name what was skipped.
    """

    record: str
    name: str
    claims: tuple[Claim, ...]
    entered: tuple[Entered, ...]
    to_look_for: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def words(self) -> str:
        """Tell it in plain sentences, claim by claim."""
        return "\n".join(self._lines())

    def _lines(self) -> Iterator[str]:
        yield self.name
        if not self.claims:
            yield _("Nothing that is recorded gives a reading yet.")
        for claim in self.claims:
            yield from claim_lines(claim)
        yield from (one.words() for one in self.entered)
        if self.to_look_for:
            yield _("What could still be looked for:")
            yield from (f"  {words}" for words in self.to_look_for)
        yield from self.notes

    def as_json(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "record": self.record,
            "name": self.name,
            "claims": [_claim_json(claim) for claim in self.claims],
            "entered": [one.as_json() for one in self.entered],
            "toLookFor": list(self.to_look_for),
            "notes": list(self.notes),
            "words": self.words(),
        }


def evidence_of(dossier: Dossier, iri: str) -> Evidence:
    """Read the evidence on a volume or piece. Raises NotFound where it is neither, or not in the dossier."""
    host, piece = dossier.host(iri), dossier.piece(iri)
    if host:
        subjects = list(subjects_of_host(dossier, host))
    elif piece:
        subjects = list(subjects_of_piece(dossier, piece))
    else:
        told = _("There is no record of a volume or piece {record} here.")
        raise NotFound(message=told.format(record=iri))
    rows, ask = reading_rows(), asking(dossier)
    found: list[FoundReading] = []
    wanted: list[str] = []
    for subject in subjects:
        found += readings(subject, rows.rows, ask)
        if host is None or subject.about in {"binding", "side"}:
            wanted += not_looked_for(subject, rows.rows)
    return Evidence(
        record=iri,
        name=dossier.name(iri),
        claims=claims(found),
        entered=entered_about(dossier, iri),
        to_look_for=tuple(dict.fromkeys(wanted)),
        notes=(*rows.skipped, *not_shown(dossier)),
    )


def asking(dossier: Dossier) -> Ask:
    """Give what answers a SPARQL ASK about the records at hand, each of which is a graph of its own."""
    store: ox.Store | None = None

    def ask(question: str, iri: str) -> bool:
        nonlocal store
        if store is None:
            store = ox.Store()
            store.extend(quad for record in dossier.records.values() for quad in to_quads(record))
        answer = store.query(question, substitutions={ox.Variable("this"): ox.NamedNode(iri)})
        return bool(answer)

    return ask


def claim_lines(claim: Claim) -> Iterator[str]:
    """Tell a claim: how it stands, what is seen, what else would explain it, what would decide."""
    yield _("{status}: {claim} ({about}).").format(
        status=status_words(claim.status), claim=claim.words, about=claim.subject.name
    )
    for one in claim.readings:
        yield "  " + _("Seen: {observation}.").format(observation=one.observed())
        if one.strength is None:
            yield "  " + _("Not all of its signs are recorded.")
        yield from (f"  {alternative_words(other)}" for other in one.alternatives)
        yield from (f"  {decide_words(words)}" for words in one.would_decide)


def alternative_words(other: Alternative) -> str:
    """Tell another explanation, and whether it is excluded."""
    told = {
        True: _("Another explanation, excluded: {words} ({because})."),
        False: _("Another explanation, stands: {words} ({because})."),
        None: _("Another explanation, not excluded: {words} ({because})."),
    }
    return told[other.excluded].format(words=other.words, because=other.because)


def decide_words(words: str) -> str:
    """Tell what would decide it."""
    return _("Would decide it: {words}").format(words=words)


def _claim_json(claim: Claim) -> dict[str, Any]:
    return {
        "claim": claim.claim,
        "words": claim.words,
        "about": list(claim.subject.records),
        "name": claim.subject.name,
        "status": claim.status,
        "readings": [one.as_json() for one in claim.readings],
        "told": list(claim_lines(claim)),
    }
