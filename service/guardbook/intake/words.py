"""The words of spreadsheets in six languages, read once from `words.toml`."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from guardbook.records.terms import folded


@lru_cache(maxsize=1)
def words() -> Mapping[str, Any]:
    """Give the whole table."""
    with Path(__file__).with_name("words.toml").open("rb") as file:
        return tomllib.load(file)


def in_language(table: str, name: str, language: str) -> str:
    """Give the word of a table in a language, or in English."""
    found = words()[table][name]
    return str(found.get(language) or found["en"])


@lru_cache(maxsize=1)
def _truths() -> Mapping[str, bool]:
    table = words()
    return {
        folded(word): truth for name, truth in (("yes", True), ("no", False)) for word in table[name]["words"]
    }


def truth(text: str) -> bool | None:
    """Read yes or no in any of the languages, or give None.

    >>> truth("Sí")
    True
    """
    return _truths().get(folded(text))


@lru_cache(maxsize=1)
def _sheet_names() -> Mapping[str, str]:
    named: dict[str, str] = {}
    for kind, table in words()["sheets"].items():
        for text in (kind, *table["others"], *(value for value in table.values() if isinstance(value, str))):
            named.setdefault(folded(text), kind)
    return named


def sheet_kind(name: str) -> str | None:
    """Give the kind of sheet that a name in any language, or a single word of it, stands for, or None.

    >>> sheet_kind("Volums"), sheet_kind("images after lifting")
    ('volumes', 'images')
    """
    names = _sheet_names()
    by_word = {names[word] for word in folded(name).split() if word in names}
    return names.get(folded(name)) or (by_word.pop() if len(by_word) == 1 else None)


def sheet_kinds() -> tuple[str, ...]:
    """Give the kinds of sheet there are."""
    return tuple(words()["sheets"])


def models_of(kind: str) -> tuple[str, ...]:
    """Give the names of the models that a row of this kind of sheet describes, the main one first."""
    return tuple(words()["sheets"][kind]["models"])
