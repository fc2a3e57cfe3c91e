"""EDTF dates in words, as one would say them."""

from __future__ import annotations

import re

from guardbook.wording import _

_SEASON = re.compile(r"(-?\d{4})-(2[1-4])")
_DECADE = re.compile(r"(\d{3})X")
_CENTURY = re.compile(r"(\d{2})XX")
_TEN_DAYS = re.compile(r"(-?\d{4}-(?!02-2)\d{2}-[012])X")


def date_words(date: str) -> str:
    """Say an EDTF date in words; what has no simple words stays as it is.

    >>> date_words("1512~"), date_words("1711-23/1713"), date_words("156X"), date_words("1572/..")
    ('about 1512', 'autumn 1711 to 1713', '1560–1569', '1572 or later')
    >>> date_words("17XX/18XX"), date_words("1512/152X")
    ('1700 to 1899', '1512 to 1529')
    >>> date_words("1402-05-2X")
    '1402-05-20 to 1402-05-29'
    """
    if date[:1] in "[{" and date[-1:] in "]}":
        return _listed(date)
    if "/" not in date:
        return _one(date)
    start, _slash, end = date.partition("/")
    if start in {"", ".."}:
        return _("{date} or earlier").format(date=_one(end))
    if end in {"", ".."}:
        return _("{date} or later").format(date=_one(start))
    return _("{first} to {last}").format(first=_one(_end_of(start, "0")), last=_one(_end_of(end, "9")))


def _end_of(date: str, digit: str) -> str:
    """Give the first or last year of a century or decade, so that no span runs from span to span."""
    return date.replace("X", digit) if _DECADE.fullmatch(date) or _CENTURY.fullmatch(date) else date


def _listed(date: str) -> str:
    dates = date[1:-1].replace("..", "–").replace(",", ", ")
    return (_("one of {dates}") if date[0] == "[" else _("all of {dates}")).format(dates=dates)


def _one(date: str) -> str:
    if date[-1:] in "~?%" and date:
        sure = {"~": _("about {date}"), "?": _("perhaps {date}"), "%": _("perhaps about {date}")}
        return sure[date[-1]].format(date=_one(date[:-1]))
    if season := _SEASON.fullmatch(date):
        return _season(season[2]).format(year=season[1])
    if decade := _DECADE.fullmatch(date):
        return f"{decade[1]}0–{decade[1]}9"
    if days := _TEN_DAYS.fullmatch(date):
        return _("{first} to {last}").format(
            first=f"{days[1]}{'1' if days[1].endswith('0') else '0'}", last=f"{days[1]}9"
        )
    return f"{century[1]}00–{century[1]}99" if (century := _CENTURY.fullmatch(date)) else date


def _season(number: str) -> str:
    return {
        "21": _("spring {year}"),
        "22": _("summer {year}"),
        "23": _("autumn {year}"),
        "24": _("winter {year}"),
    }[number]
