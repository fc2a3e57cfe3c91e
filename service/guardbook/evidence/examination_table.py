"""Which examinations there are, and what is left of each once a piece is back in its place."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache

from guardbook import settings
from guardbook.errors import BrokenShapes
from guardbook.records import terms
from guardbook.wording import _, language

FILE = "examinations.toml"


@dataclass(frozen=True, kw_only=True)
class ExaminationRow:
    """One examination: what it needs, and whether it is possible once the piece is back (yes, limited, no).

    An image of one of the `techniques` shows that it was done, if it is of this `face` (outer, hidden, any).
    What is `on_host` is seen on the volume, where the piece lay.
    """

    slug: str
    needs: str
    once_back: str
    limited: str = ""
    techniques: tuple[str, ...] = ()
    face: str = "any"
    on_host: bool = False

    @property
    def label(self) -> str:
        """Give its name."""
        return terms.label("examination", self.slug, language())


@lru_cache(maxsize=1)
def examination_table() -> tuple[ExaminationRow, ...]:
    """Give all examinations. Raises BrokenShapes where the table cannot be used."""
    path = settings.current().shapes / FILE
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))["examinations"]
        return tuple(
            ExaminationRow(slug=slug, **{**row, "techniques": tuple(row.get("techniques", ()))})
            for slug, row in table.items()
        )
    except (OSError, tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        told = _("{file} cannot be used: {reason}")
        raise BrokenShapes(message=told.format(file=path.name, reason=error)) from error
