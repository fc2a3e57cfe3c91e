"""What is told of the dataset as a whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from guardbook import settings


@dataclass(frozen=True, kw_only=True)
class Facts:
    """The catalogue in numbers, as one viewer sees it.

    `at` is where this instance is reached, ending in a slash; `classes` and `properties` count things and
    statements by IRI; `examples` are records that show what there is. What could not be counted is None.
    """

    at: str
    records: int
    classes: Mapping[str, int] | None
    properties: Mapping[str, int] | None
    subjects: int | None
    objects: int | None
    changed: datetime | None
    examples: tuple[str, ...] = ()

    @property
    def iri(self) -> str:
        """Give what stands for the dataset, wherever it is reached."""
        return f"{settings.current().base}dataset"

    @property
    def triples(self) -> int | None:
        """Give the number of statements."""
        return None if self.properties is None else sum(self.properties.values())


def reached_at(asked_at: str) -> str:
    """Give where this instance is reached: as it was asked, until it has an address of its own."""
    base = settings.current().base
    return asked_at if base == settings.DEFAULT_BASE else base
