"""How far a date that is only about or perhaps so is taken to reach, in words."""

from __future__ import annotations

from guardbook.binding.times import reach
from guardbook.evidence.days import from_words, until_words
from guardbook.records.date_words import date_words
from guardbook.wording import _


def reach_words(date: str) -> str:
    """Say a date, and for one that is only about or perhaps so, how far it is taken to reach.

    >>> reach_words("1543~")
    'about 1543 (taken as 1523 to 1563)'
    """
    if not any(sign in date for sign in "~?%"):
        return date_words(date)
    span = reach(date)
    first, last = from_words(span.earliest), until_words(span.latest)
    if first == last:
        return _("{date} (taken as {day})").format(date=date_words(date), day=first)
    return _("{date} (taken as {first} to {last})").format(date=date_words(date), first=first, last=last)
