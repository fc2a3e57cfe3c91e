"""A decision about a piece: options, what each puts out of reach, the choice, the reasons, the consent."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import AgentRef, KeeperRef, Part, Record, rdf
from guardbook.records.event import PieceOrHostRef
from guardbook.records.values import Amount, Date, Scheme, Text, WithinRecord


class Option(Part):
    """One way to go on, and what it puts out of reach."""

    prefix: ClassVar[str] = "option"

    option_kind: Annotated[str, Scheme("option")] = rdf(required=True)
    description: Text | None = rdf()
    out_of_reach: Text | None = rdf()


class Criterion(Part):
    """Something that is weighed, and its weight (0 or more; only the proportions matter)."""

    prefix: ClassVar[str] = "criterion"

    name: Text = rdf(required=True)
    weight: Amount | None = rdf()


class Score(Part):
    """How well an option does by a criterion (0 or more)."""

    prefix: ClassVar[str] = "score"

    for_option: Annotated[str, WithinRecord("option")] = rdf(required=True)
    for_criterion: Annotated[str, WithinRecord("criterion")] = rdf(required=True)
    value: Amount = rdf(required=True)
    reason: Text | None = rdf()


class Decision(Record):
    """Options side by side, what was chosen, why, by whom and with whose consent."""

    kind: ClassVar[str] = "decision"

    about: tuple[PieceOrHostRef, ...] = rdf(many=True)
    question: Text | None = rdf()
    options: tuple[Option, ...] = rdf(many=True)
    criteria: tuple[Criterion, ...] = rdf(many=True)
    scores: tuple[Score, ...] = rdf(many=True)
    choice: Annotated[str, WithinRecord("option")] | None = rdf()
    reasons: Text | None = rdf()
    consent_by: KeeperRef | None = rdf()
    consent_when: Date | None = rdf()
    by: tuple[AgentRef, ...] = rdf(many=True)
    when: Date | None = rdf()
