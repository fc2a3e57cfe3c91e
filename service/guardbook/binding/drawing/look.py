"""What the one who asks for a drawing may choose."""

from __future__ import annotations

import zlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType


@dataclass(frozen=True)
class Picture:
    """Where a picture is to be had, and its size in pixels."""

    address: str
    width: int
    height: int


@dataclass(frozen=True, kw_only=True)
class Look:
    """How a drawing is made ready for its place.

    `narrow` is for a screen as narrow as a phone's: larger text, the legend in one column. `letters` gives
    pieces (IRIs) their letters, so that they keep them from drawing to drawing; others get the next ones.
    `link` gives the address a piece is linked to, by its IRI; without it nothing is linked. `pictures` gives
    pictures by the IRI of their records; others are not shown. `name` begins every id, so that
    several drawings can stand in one page; without it, it is made from the title. `marked` is the piece (IRI)
    that the reader should find at once: it is outlined boldly, also where it is hidden or gone. A `bare`
    drawing of a plane has no legend, for it stands beside it as text.
    """

    narrow: bool = False
    letters: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    link: Callable[[str], str] | None = None
    pictures: Mapping[str, Picture] = field(default_factory=lambda: MappingProxyType({}))
    name: str | None = None
    marked: str | None = None
    bare: bool = False

    def prefix(self, title: str) -> str:
        """Give what the ids of a drawing begin with."""
        return self.name or f"d{zlib.crc32(title.encode()):08x}"


PLAIN = Look()
