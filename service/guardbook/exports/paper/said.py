"""Terms, labels of fields, dates and measures, as papers say them in the language now spoken."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from babel import Locale
from babel.dates import format_date, format_skeleton

from guardbook.completeness.forms import form_of
from guardbook.records import terms
from guardbook.records.date_words import date_words
from guardbook.wording import decimal, language

_DAY = re.compile(r"(?<![\d-])(\d{4})-(\d{2})-(\d{2})(?![\d-])")
_NUMBERED = re.compile(r"(?<![\d-])(\d{4})-(\d{2})(?:-(\d{2}))?(?![\d-])")


def term(scheme: str, slug: str) -> str:
    """Give the label of a trade term."""
    return terms.label(scheme, slug, language())


def label_of(model: str, name: str) -> str:
    """Give the label of a field of a model, by its JSON name."""
    form = form_of(model, name)
    # the measures bear their unit themselves
    return form.label(language()).removesuffix(" (mm)") if form else name


def listed(words: Iterable[str]) -> str:
    """Put words beside each other."""
    return ", ".join(word for word in words if word)


def millimetres(value: Decimal | float) -> str:
    """Write a length in mm, with the decimal sign of the language."""
    text = format(value, "f") if isinstance(value, Decimal) else f"{value:g}"
    return f"{decimal(text)}\u00a0mm"


def size(height: Decimal | None, width: Decimal | None) -> str:
    """Write height and width, as the trade gives them, height first; what is not known is left out."""
    sides = [millimetres(side).removesuffix("\u00a0mm") for side in (height, width) if side is not None]
    return f"{' × '.join(sides)}\u00a0mm" if sides else ""


def day(when: date) -> str:
    """Write a day out: 16 September 2019."""
    return format_date(when, "long", locale=_locale())


def _locale() -> str:
    """Give the locale of dates; in English the day comes first, as in all our other languages."""
    return "en_GB" if language() == "en" else language()


def date_said(edtf: str | None) -> str:
    """Say an EDTF date in words, with its days and months written out; nothing where there is none."""
    return months_written_out(date_words(edtf)) if edtf else ""


def days_written_out(text: str) -> str:
    """Write the whole days in a sentence out; a year with a month may be part of a title, and stays."""
    return _DAY.sub(_written_out, text)


def months_written_out(text: str) -> str:
    """Write the days and months in words of dates alone out."""
    return _NUMBERED.sub(_written_out, text)


def language_of_text(code: str) -> str:
    """Name a language by its code, in the language now spoken: `la` is Latin."""
    return str(Locale(language()).languages.get(code, code))


def _written_out(found: re.Match[str]) -> str:
    year, month, number = int(found[1]), int(found[2]), found[3]
    try:
        if number:
            return day(date(year, month, int(number)))
        return str(format_skeleton("yMMMM", date(year, month, 1), locale=_locale()))
    except ValueError:  # a year that calendars here do not have, such as 0
        return found[0]
