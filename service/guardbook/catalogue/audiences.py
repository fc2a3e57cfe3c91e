"""Who a row is for: the workshop, which sees all, or the public."""

from __future__ import annotations

from enum import IntEnum, StrEnum


class Viewer(StrEnum):
    """Who is looking."""

    WORKSHOP = "workshop"
    PUBLIC = "public"

    @property
    def audience(self) -> Audience:
        """Give the audience whose rows this viewer reads."""
        return Audience.PUBLIC if self is Viewer.PUBLIC else Audience.WORKSHOP


class Audience(IntEnum):
    """The number of an audience in the tables."""

    WORKSHOP = 0
    PUBLIC = 1

    def row(self, head: int) -> int:
        """Give the number of this audience's text row of a head."""
        return 2 * head + self
