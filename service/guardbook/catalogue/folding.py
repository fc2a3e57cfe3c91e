"""Fold accents, case and ligatures away, so that people find what they wrote another way."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

# Letters that Unicode does not take apart; the middle dot goes, so that Catalan l·l is ll.
_TAKEN_APART = str.maketrans(
    {"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "·": ""}
)
_WORD = re.compile(r"[^\W_]+")


def fold(text: str) -> str:
    """Give the text without accents, case and ligatures.

    >>> fold("Col·lecció ﬂœß")
    'colleccio floess'
    """
    if text.isascii():
        return text.lower()
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold())
    return "".join(mark for mark in plain if not unicodedata.combining(mark)).translate(_TAKEN_APART)


def words(text: str) -> list[str]:
    """Give the folded words of a text: runs of letters and digits."""
    return _WORD.findall(fold(text))


class Token(NamedTuple):
    """A folded word, and where it begins and ends in the text as written."""

    word: str
    start: int
    end: int


def tokens(text: str) -> list[Token]:
    """Give the folded words of a text with their places; an accent written apart belongs to its letter."""
    if text.isascii():
        return [Token(found[0], found.start(), found.end()) for found in _WORD.finditer(text.lower())]
    pieces = [fold(character) for character in text]
    places = [place for place, piece in enumerate(pieces) for _ in piece]
    found_in = _WORD.finditer("".join(pieces))
    return [Token(found[0], places[found.start()], _end(text, places[found.end() - 1])) for found in found_in]


def _end(text: str, last: int) -> int:
    end = last + 1
    while end < len(text) and unicodedata.combining(text[end]):
        end += 1
    return end


def squeezed(text: str) -> str:
    """Give a shelfmark or number as it is compared: folded, without spaces and signs.

    >>> squeezed("W 2024-017/b")
    'w2024017b'
    """
    return "".join(words(text))
