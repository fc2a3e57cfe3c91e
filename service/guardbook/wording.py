"""The words of the pages, papers and drawings in the language of whoever reads them (gettext).

English is what the code says; `locale/LANGUAGE.po` holds the other languages, and is read as it stands, so
that nothing has to be built. Trade terms and labels of fields are not here: they are SKOS and SHACL labels.
"""

from __future__ import annotations

import gettext
import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, reduce
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

LANGUAGES = ("en", "ca", "es", "fr", "de", "it")
FOLDER = Path(__file__).parent / "locale"

_spoken: ContextVar[str] = ContextVar("language", default="en")


def language() -> str:
    """Give the language now spoken, one of `LANGUAGES`."""
    return _spoken.get()


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Say everything within in one of `LANGUAGES`. Raises ValueError for any other."""
    if language not in LANGUAGES:
        raise ValueError(f"Expected one of {', '.join(LANGUAGES)}, found {language!r}.")
    token = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(token)


def _(text: str) -> str:
    """Give a text in the language now spoken, in English where it is not translated.

    Values are put in afterwards by name, `_("{count} pieces").format(count=3)`, as their order differs.
    """
    return _translations(language()).gettext(text)


def said_later(text: str) -> str:
    """Mark a text of a table for translation, and give it as it is: `_` says it where it is shown."""
    return text


def decimal(number: str) -> str:
    """Give a number that is written with a point with the decimal sign of the language now spoken."""
    return number if language() == "en" else number.replace(".", ",")


def decimals(numbers: Iterable[str]) -> str:
    """Give several numbers as `decimal` does, with commas or, beside decimal commas, semicolons."""
    return (", " if language() == "en" else "; ").join(map(decimal, numbers))


def ngettext(one: str, many: str, count: int) -> str:
    """Give the form of a text that fits a number, as `_` does."""
    return _translations(language()).ngettext(one, many, count)


def pgettext(context: str, text: str) -> str:
    """Give a text that needs its context to be translated, such as a short label, as `_` does."""
    return _translations(language()).pgettext(context, text)


def either(names: Iterable[str]) -> str:
    """Give names of which one is meant, as `this or that`, in the language now spoken."""
    told = list(names)
    return reduce(lambda some, one: _("{some} or {one}").format(some=some, one=one), told) if told else ""


@cache
def _translations(language: str) -> gettext.NullTranslations:
    path = FOLDER / f"{language}.po"
    if not path.is_file():
        return gettext.NullTranslations()
    compiled = io.BytesIO()
    with path.open("rb") as file:
        write_mo(compiled, read_po(file, locale=language))
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)
