"""EDTF dates in words, as one would say them."""

from __future__ import annotations

import re

from guardbook.binding.times import reach
from guardbook.evidence.days import from_words, until_words

_SEASONS = {"21": "spring", "22": "summer", "23": "autumn", "24": "winter"}
_SEASON = re.compile(r"(-?\d{4})-(2[1-4])")
_DECADE = re.compile(r"(\d{3})X")
_CENTURY = re.compile(r"(\d{2})XX")
_SURE = {"~": "about ", "?": "perhaps ", "%": "perhaps about "}


def date_words(date: str) -> str:
    """Say an EDTF date in words; what has no simple words stays as it is.

    >>> date_words("1512~"), date_words("1711-23/1713"), date_words("156X"), date_words("1572/..")
    ('about 1512', 'autumn 1711 to 1713', '1560–1569', '1572 or later')
    """
    if date[:1] in "[{" and date[-1:] in "]}":
        listed = date[1:-1].replace("..", " to ").replace(",", ", ")
        return f"{'one of' if date[0] == '[' else 'all of'} {listed}"
    if "/" not in date:
        return _one(date)
    start, _, end = date.partition("/")
    if start in {"", ".."}:
        return f"{_one(end)} or earlier"
    return f"{_one(start)} or later" if end in {"", ".."} else f"{_one(start)} to {_one(end)}"


def _one(date: str) -> str:
    if date[-1:] in _SURE:
        return _SURE[date[-1]] + _one(date[:-1])
    if season := _SEASON.fullmatch(date):
        return f"{_SEASONS[season[2]]} {season[1]}"
    if decade := _DECADE.fullmatch(date):
        return f"{decade[1]}0–{decade[1]}9"
    return f"{century[1]}00–{century[1]}99" if (century := _CENTURY.fullmatch(date)) else date


def reach_words(date: str) -> str:
    """Say a date, and for one that is only about or perhaps so, how far it is taken to reach.

    >>> reach_words("1543~")
    'about 1543 (taken as 1523 to 1563)'
    """
    if not any(sign in date for sign in "~?%"):
        return date_words(date)
    span = reach(date)
    ends = [from_words(span.earliest), until_words(span.latest)]
    return f"{date_words(date)} (taken as {' to '.join(dict.fromkeys(ends))})"
