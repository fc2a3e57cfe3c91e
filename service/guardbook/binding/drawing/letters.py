"""The letters that stand for pieces on drawings."""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping

from guardbook.binding.dossier import Dossier
from guardbook.binding.host_states import lives_at_host
from guardbook.records.base import natural_order

# as on technical drawings, without those that read as figures
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


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


def letters_of_host(dossier: Dossier, host: str) -> dict[str, str]:
    """Give every piece that ever was in a volume one letter for all stages, in the order they came."""
    came: list[tuple[int, tuple[object, ...], str]] = []
    for life in lives_at_host(dossier, host):
        stages = [stay.from_stage or 0 for stay in life.stays if stay.host == host]
        if stages:
            came.append((min(stages), natural_order(dossier.name(life.piece)), life.piece))
    return letters_of(piece for _, _, piece in sorted(came))
