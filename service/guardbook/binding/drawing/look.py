"""What the one who asks for a drawing may choose, and the letters that stand for pieces."""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

# as on technical drawings, without those that read as figures
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


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
    several drawings can stand in one page; without it, it is made from the title.
    """

    narrow: bool = False
    letters: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    link: Callable[[str], str] | None = None
    pictures: Mapping[str, Picture] = field(default_factory=lambda: MappingProxyType({}))
    name: str | None = None

    def prefix(self, title: str) -> str:
        """Give what the ids of a drawing begin with."""
        return self.name or f"drawing-{zlib.crc32(title.encode()):08x}"


PLAIN = Look()


def letter(at: int) -> str:
    """Give the letter of the piece number `at`, from 0.

    >>> letter(0), letter(23), letter(24), letter(48)
    ('A', 'Z', 'AA', 'BA')
    """
    before, last = divmod(at, len(LETTERS))
    return (letter(before - 1) if before else "") + LETTERS[last]


def place_of(text: str) -> int:
    """Give the number of a letter, from 0; a sign of somebody's own gets a number that is always the same.

    >>> place_of("B"), place_of("AA")
    (1, 24)
    """
    if not text or set(text) - set(LETTERS):
        return zlib.crc32(text.encode())
    at = -1
    for sign in text:
        at = (at + 1) * len(LETTERS) + LETTERS.index(sign)
    return at


def letters_of(pieces: Iterable[str], given: Mapping[str, str] | None = None) -> dict[str, str]:
    """Give each piece a letter: the one it has, or the first that is free."""
    known = dict(given or {})
    used, at = set(known.values()), 0
    for piece in pieces:
        if piece in known:
            continue
        while letter(at) in used:
            at += 1
        known[piece] = letter(at)
        used.add(known[piece])
    return known
