"""Speak in a language that somebody asked for by name."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from guardbook.errors import WrongUse
from guardbook.wording import LANGUAGES, _, language, speaking


@contextmanager
def speaking_in(asked: str | None) -> Iterator[None]:
    """Say everything within in the language asked for (None: the one now spoken).

    Raises WrongUse for a language that there is not.
    """
    wanted = asked or language()
    if wanted not in LANGUAGES:
        raise WrongUse(
            message=_("Nothing is printed in {language}, only in {languages}.").format(
                language=repr(wanted), languages=", ".join(LANGUAGES)
            )
        )
    with speaking(wanted):
        yield
