"""People and bodies: who keeps, owns, treats, photographs, reads."""

from __future__ import annotations

from typing import ClassVar

from guardbook.records.base import Record, rdf
from guardbook.records.values import Address, Flag, Text


class Agent(Record):
    """A person. Named in public only with consent (`may_be_named`)."""

    kind: ClassVar[str] = "agent"

    name: Text | None = rdf()
    role: Text | None = rdf()
    may_be_named: Flag | None = rdf()
    contact: Text | None = rdf(visible="workshop")
    address: Address | None = rdf()


class Institution(Record):
    """A library, archive, museum, workshop or other body."""

    kind: ClassVar[str] = "institution"

    name: Text | None = rdf()
    place: Text | None = rdf()
    contact: Text | None = rdf(visible="workshop")
    address: Address | None = rdf()
