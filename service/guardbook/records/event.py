"""What all events share: when, by whom, in which order, on what evidence."""

from __future__ import annotations

from typing import Annotated

from guardbook.records.base import AgentRef, Record, rdf
from guardbook.records.values import Date, Integer, Reference, Scheme, Text

FragmentRef = Annotated[str, Reference(("fragment",))]
HostRef = Annotated[str, Reference(("host",))]
PieceOrHostRef = Annotated[str, Reference(("fragment", "host"))]
ImageRef = Annotated[str, Reference(("image",))]


class Event(Record):
    """Something that happened, or is planned: `status` is planned or done (done where it is not said).

    `sequence` states the order among events of one stage where dates cannot.
    """

    status: Annotated[str, Scheme("status")] | None = rdf()
    when: Date | None = rdf()
    date_reason: Text | None = rdf()
    by: tuple[AgentRef, ...] = rdf(many=True)
    sequence: Integer | None = rdf()
    evidence: Text | None = rdf()
