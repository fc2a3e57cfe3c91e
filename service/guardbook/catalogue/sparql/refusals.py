r"""What is refused before it is asked: updates, `SERVICE`, and what is too long.

The engine would answer `SERVICE` with a real request over the network. So the text is taken apart into its
tokens (SPARQL 1.1 Query Language, section 19.8), and the word is refused wherever it could be a keyword,
even run together with what stands beside it. Escapes such as `\u0053` are looked at both as they are
written and as what they stand for.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from guardbook.errors import Fault, QueryRefused, TooLarge
from guardbook.wording import _

LONGEST_CHARACTERS = 200_000
_UPDATES = "insert|delete|load|clear|drop|create|add|move|copy|with"

_ESCAPE = re.compile(r"\\u([0-9A-Fa-f]{4})|\\U([0-9A-Fa-f]{8})")
# what can hold any word without its being a keyword; an IRI cannot hold the braces that must follow SERVICE
_NO_KEYWORD = re.compile(
    r"""
    \#[^\n\r]*+
    | <[^<>"{}|^`\\\x00-\x20]*+>
    | \"{3}(?:"{0,2}(?:[^"\\]|\\.))*+"{3}
    | '{3}(?:'{0,2}(?:[^'\\]|\\.))*+'{3}
    | "(?:[^"\\\n\r]|\\.)*+"
    | '(?:[^'\\\n\r]|\\.)*+'
    | [?$]\w++
    | \\['"]
    | (?P<open>["'])
    """,
    re.VERBOSE | re.DOTALL,
)
_LOCAL_NAME = re.compile(r":(?:[\w:.%-]|\\.)*+")
_PREFIX_NAME = re.compile(r"(?<![\w.-])[\w.-]*+:")
_FIRST_WORD = re.compile(rf"(?i)\b(select|ask|construct|describe|{_UPDATES})\b")
_REMOTE = re.compile(r"(?i)service[^\s{]*")


def check(text: str) -> None:
    """Raise QueryRefused for an update or a remote call, TooLarge for what is longer than is read here."""
    if len(text) > LONGEST_CHARACTERS:
        told = _("At most {count} characters of a query are read.")
        raise TooLarge(message=told.format(count=LONGEST_CHARACTERS))
    faults = tuple(dict.fromkeys(fault for seen in {text, _unescaped(text)} for fault in _faults(seen)))
    if faults:
        raise QueryRefused(message=_("This question is not answered."), faults=faults)


def has_dataset(text: str) -> bool:
    """Say whether a query names its dataset itself (`FROM`, `FROM NAMED`)."""
    return re.search(r"(?i)\bfrom\b", _keywords(text)) is not None


def without_texts(text: str) -> str:
    """Give a query of the same length, its texts, comments, variables and IRIs made of spaces."""
    return _NO_KEYWORD.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)


def _keywords(text: str) -> str:
    """Give what is left of a query without texts, comments, variables, IRIs and prefixed names."""
    return _LOCAL_NAME.sub(" ", _PREFIX_NAME.sub(":", _NO_KEYWORD.sub(_blank, text)))


def _faults(text: str) -> Iterator[Fault]:
    first = _FIRST_WORD.search(_keywords(text))
    if first and re.fullmatch(_UPDATES, first[1].lower()):
        yield Fault(
            where=_("the query"),
            found=_("an update ({word})").format(word=first[1].upper()),
            expected=_("SELECT, ASK, CONSTRUCT or DESCRIBE"),
            mend=_("Records are changed through /api/records, by the workshop."),
        )
    if found := _REMOTE.search(_LOCAL_NAME.sub(":", _NO_KEYWORD.sub(_blank, text))):
        yield Fault(
            where=_("the query"),
            found=repr(found[0][:60]),
            expected=_("a question to this catalogue only, without SERVICE"),
            mend=_("A prefix of that name has to be renamed."),
        )


def _blank(found: re.Match[str]) -> str:
    """Give a space in place of a token. Raises QueryRefused for a text that is not closed."""
    if found["open"]:
        before = found.string[: found.start()]
        line, column = before.count("\n") + 1, found.start() - before.rfind("\n")
        raise refused_at(line, column, _("a quotation mark"), _("one that closes the text as well"))
    return " "


def refused_at(line: int, column: int, found: str, expected: str) -> QueryRefused:
    """Make the error that says at which place a text stops being a query."""
    where = _("line {line}, column {column}").format(line=line, column=column)
    return QueryRefused(
        message=_("This is no SPARQL query ({place}).").format(place=where),
        faults=(Fault(where=where, found=found, expected=expected),),
        details={"line": line, "column": column},
    )


def _unescaped(text: str) -> str:
    return _ESCAPE.sub(_character, text)


def _character(found: re.Match[str]) -> str:
    number = int(found[1] or found[2], 16)
    return chr(number) if number <= 0x10FFFF else found[0]
