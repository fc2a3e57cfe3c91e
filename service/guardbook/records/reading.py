"""A reading: what observations may mean, how strongly, and what else they might mean."""

from __future__ import annotations

from typing import Annotated, ClassVar

from guardbook.records.base import AgentRef, Part, Record, rdf
from guardbook.records.values import Date, Flag, Reference, Scheme, Text

AnyRef = Annotated[str, Reference(("fragment", "host", "carrier"))]


class Observation(Part):
    """What anyone can see again, kept apart from what it may mean."""

    prefix: ClassVar[str] = "observation"

    text: Text = rdf(required=True)
    seen_on: AnyRef | None = rdf()
    by: AgentRef | None = rdf()
    when: Date | None = rdf()


class Alternative(Part):
    """Another explanation of the same observations, and whether and why it is excluded."""

    prefix: ClassVar[str] = "alternative"

    text: Text = rdf(required=True)
    excluded: Flag | None = rdf()
    reason: Text | None = rdf()


class Reading(Record):
    """What observations about some records may mean, with its strength and its alternatives."""

    kind: ClassVar[str] = "reading"

    about: tuple[AnyRef, ...] = rdf(many=True)
    claim: Text | None = rdf()
    strength: Annotated[str, Scheme("strength")] | None = rdf()
    observations: tuple[Observation, ...] = rdf(many=True)
    alternatives: tuple[Alternative, ...] = rdf(many=True)
    would_decide: Text | None = rdf()
    by: AgentRef | None = rdf()
    when: Date | None = rdf()
