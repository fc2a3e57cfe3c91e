"""Signs that no font here has a form for: found before printing, and printed by their number.

A sign that silently became an empty box would be lost to the reader, and PDF/UA-1 (ISO 14289-1, 7.21.8, from
memory) forbids it.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import typst

from guardbook.exports.paper.fonts import SANS, SERIF, fonts

_MARKS = r"\u0300-\u036f\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff\ufe00-\ufe2f"
# a letter with the marks that stand on it, which a font sets as one
_CLUSTER = re.compile(f"[^{_MARKS}][{_MARKS}]*|.", re.DOTALL)
_ALWAYS_THERE = frozenset(map(chr, [*range(0x20, 0x7F), *range(0xA0, 0x180), 0x09, 0x0A]))
_REFUSED = re.compile(r'the text `"((?:[^"\\]|\\.)*)"` could not be displayed')
_ESCAPED = re.compile(r"\\u\{([0-9a-fA-F]+)\}|\\(.)")
_PROBE = f"""
#set document(title: "signs")
#let set-in(font, weight, style) = for sign in json(bytes(sys.inputs.signs)) [
  #text(font: font, weight: weight, style: style, sign)
]
#set-in("{SERIF}", 400, "normal")
#set-in("{SERIF}", 700, "normal")
#set-in("{SERIF}", 400, "italic")
#set-in("{SANS}", 400, "normal")
#set-in("{SANS}", 700, "normal")
"""


@dataclass(frozen=True, order=True)
class Sign:
    """A sign that cannot be printed: its number, and what Unicode calls it."""

    code: str
    name: str

    @classmethod
    def of(cls, cluster: str) -> Sign:
        """Give it of a letter with its marks."""
        code = "+".join(f"U+{ord(character):04X}" for character in cluster)
        return cls(code, ", ".join(_name(character) for character in cluster))


def _name(character: str) -> str:
    return unicodedata.name(
        character, "PRIVATE USE" if unicodedata.category(character) == "Co" else "UNNAMED"
    )


def unprintable(text: str) -> Mapping[str, Sign]:
    """Give the signs of a text that cannot be printed, each with the marks that stand on it."""
    refused = _refused("".join(sorted(set(text) - _ALWAYS_THERE)))
    if not refused:
        return {}
    # beside a letter that is there a mark that is not would be passed over, and the other way round
    return {found: Sign.of(found) for found in sorted(set(_CLUSTER.findall(text))) if refused & set(found)}


def printable(text: str, missing: Mapping[str, Sign]) -> str:
    """Put the number of each sign that cannot be printed in its place: `[U+A751]`."""
    if not missing:
        return text
    return "".join(
        f"[{missing[cluster].code}]" if cluster in missing else cluster for cluster in _CLUSTER.findall(text)
    )


@lru_cache(maxsize=512)
def _refused(characters: str) -> frozenset[str]:
    """Ask Typst which of these it has no form for: it names them all where it is to make a PDF/UA."""
    if not characters:
        return frozenset()
    try:
        typst.compile(
            _PROBE.encode(),
            font_paths=fonts(),
            ignore_system_fonts=True,
            sys_inputs={"signs": json.dumps(list(characters))},
            pdf_standards="ua-1",
        )
    except typst.TypstError as error:
        named = (_ESCAPED.sub(_unescaped, found) for found in _REFUSED.findall(error.diagnostic))
        return frozenset(characters) & frozenset("".join(named))
    return frozenset()


def _unescaped(found: re.Match[str]) -> str:
    return chr(int(found[1], 16)) if found[1] else found[2]
