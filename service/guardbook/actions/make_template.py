"""Make an empty spreadsheet to fill in."""

from __future__ import annotations

from guardbook.errors import WrongUse
from guardbook.intake import template, words
from guardbook.wording import LANGUAGES


def make_template(format_name: str = "xlsx", *, language: str = "en", kind: str = "pieces") -> bytes:
    """Give an empty sheet (`csv` or `xlsx`) with headings in a language, for one kind of record.

    `kind` is the name of a kind of sheet in any language: pieces, volumes, carriers, moves ... Raises
    WrongUse naming what there is to choose from.
    """
    found = words.sheet_kind(kind)
    choices = (
        (format_name in template.FORMATS, f"{format_name!r} is no format", template.FORMATS),
        (language in LANGUAGES, f"{language!r} is no language known here", LANGUAGES),
        (found, f"{kind!r} is no kind of sheet", words.sheet_kinds()),
    )
    for known, sentence, instead in choices:
        if not known:
            raise WrongUse(message=f"{sentence}. Choose one of {', '.join(instead)}.")
    return template.template(format_name, language, found or kind)
