"""The words around what was looked for, from what the viewer may see."""

from __future__ import annotations

from guardbook.catalogue.folding import Token, tokens, words
from guardbook.catalogue.text_index import texts_in
from guardbook.records.base import Record

_AROUND = 60


def snippet(record: Record, asked: str) -> str:
    """Give about two lines of the first text of a record in which a word looked for begins, or nothing."""
    beginnings = tuple(words(asked))
    for name, text in texts_in(record) if beginnings else ():
        if name != "title":
            found = next((token for token in tokens(text) if token.word.startswith(beginnings)), None)
            if found:
                return _around(text, found)
    return ""


def _around(text: str, found: Token) -> str:
    start, end = max(0, found.start - _AROUND), found.end + _AROUND
    before = text[start : found.start]
    if start:
        before = "… " + before.partition(" ")[2]
    after = text[found.end : end]
    if end < len(text):
        after = after.rpartition(" ")[0] + " …"
    return " ".join((before + text[found.start : found.end] + after).split())
