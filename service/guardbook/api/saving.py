"""Who saves, what for, and whether doubtful values are right: asked in the address, as bodies are records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Depends, Query


@dataclass(frozen=True)
class Saving:
    """What goes with every change."""

    who: str
    what_for: str
    sure: bool

    def words(self, what_for: str) -> dict[str, Any]:
        """Give the words of a saving action; `what_for` stands in where nothing was said."""
        return {"who": self.who, "what_for": self.what_for or what_for, "sure": self.sure}


def _saving(
    who: Annotated[str, Query(max_length=200, description="Who saves it.")] = "the workshop",
    what_for: Annotated[
        str, Query(alias="whatFor", max_length=1000, description="What for, kept in the history.")
    ] = "",
    sure: Annotated[bool, Query(description="Keep values that were asked about: they are right.")] = False,  # noqa: FBT002  # FastAPI gives it by name
) -> Saving:
    return Saving(who, what_for, sure)


SavingQuery = Annotated[Saving, Depends(_saving)]
