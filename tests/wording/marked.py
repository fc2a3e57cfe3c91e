"""A language made up for tests: every text as in English, in guillemets, so that what is not said shows."""

from __future__ import annotations

import gettext
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from guardbook import wording


class _Marked(gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        return f"«{message}»"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


@contextmanager
def marking() -> Iterator[None]:
    """Say everything within as French would be said, were French English in guillemets."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(wording, "_translations", lambda _language: _Marked())
        with wording.speaking("fr"):
            yield
