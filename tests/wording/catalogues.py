"""Gather every text to be translated, and keep `service/guardbook/locale/*.po` in step with them.

`python -m tests.wording.catalogues` adds to each language what is new, leaves out what is gone, and says how
many texts wait for their translation.
"""

from __future__ import annotations

import io
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pyoxigraph as ox
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.pofile import read_po, write_po

from guardbook.wording import FOLDER, LANGUAGES
from tests.house import sources

TRANSLATED = tuple(language for language in LANGUAGES if language != "en")
SHAPES = sources.TOP / "shapes"
_KEYWORDS = {"_": None, "said_later": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2)}
_TEMPLATE_OPTIONS = {"trimmed": "true", "silent": "false"}
# what people read of the shapes; names of fields and trade terms are there in all languages already
_SHACL, _GUARDBOOK = "http://www.w3.org/ns/shacl#", "https://w3id.org/guardbook/ns#"
_READ_IN_SHAPES = frozenset(
    ox.NamedNode(iri)
    for iri in (_SHACL + "description", _SHACL + "message", _GUARDBOOK + "why", _GUARDBOOK + "how")
)
# the tables of rules and, in each, the keys whose texts are said
_SAID_IN_TABLES: dict[str, frozenset[str]] = {
    "dating.toml": frozenset({"words", "reason", "except"}),
    "evidence.toml": frozenset({"words", "decide", "claims", "claim_words", "observation"}),
    "examinations.toml": frozenset({"needs", "limited"}),
    "options.toml": frozenset(
        {"aspects", "reach", "access", "evidence", "function", "visibility", "undoing"}
    ),
}

Message = tuple[str | tuple[str, ...], str | None]


@cache
def messages() -> tuple[Message, ...]:
    """Give every text to be translated, singular and plural where it has both, with its context if any."""
    found = {*_in_python(), *_in_templates(), *_in_shapes(), *_in_tables()}
    return tuple(sorted(found, key=repr))


def catalogue(language: str) -> Catalog:
    """Read the translations into a language, none where there is no file yet."""
    path = FOLDER / f"{language}.po"
    if not path.is_file():
        return Catalog(locale=language)
    with path.open("rb") as file:
        return read_po(file, locale=language)


def in_step(language: str) -> Catalog:
    """Give the translations into a language for just the texts there are; new ones stand there empty."""
    known = catalogue(language)
    made = Catalog(locale=language, project="Guardbook", charset="utf-8", fuzzy=False)
    for text, context in messages():
        before = known.get(text, context)
        made.add(text, before.string if before else "", context=context)
    return made


def written(made: Catalog) -> bytes:
    """Write translations as they are kept: in order, without places or dates, so that changes show alone."""
    file = io.BytesIO()
    write_po(file, made, width=110, no_location=True, sort_output=True, omit_header=True)
    fields = (
        f"Language: {made.locale}",
        "Content-Type: text/plain; charset=utf-8",
        f"Plural-Forms: {made.plural_forms}",
    )
    header = 'msgid ""\nmsgstr ""\n' + "".join(f'"{line}\\n"\n' for line in fields) + "\n"
    return header.encode() + file.getvalue()


def _in_python() -> Iterator[Message]:
    for path in sources.files_in(sources.PACKAGE, ".py"):
        yield from _extracted("python", path, {})


def _in_templates() -> Iterator[Message]:
    for path in sources.files_in(sources.PACKAGE, ".html"):
        yield from _extracted("jinja2.ext:babel_extract", path, _TEMPLATE_OPTIONS)


def _extracted(method: str, path: Path, options: dict[str, str]) -> Iterator[Message]:
    for _line, text, _comments, context in extract_from_file(method, path, _KEYWORDS, options=options):
        yield text, context


def _in_shapes() -> Iterator[Message]:
    for path in sorted(SHAPES.rglob("*.ttl")):
        for quad in ox.parse(path=str(path), format=ox.RdfFormat.TURTLE):
            if quad.predicate in _READ_IN_SHAPES and isinstance(quad.object, ox.Literal):
                yield quad.object.value, None


def _in_tables() -> Iterator[Message]:
    for name, keys in _SAID_IN_TABLES.items():
        table = tomllib.loads((SHAPES / name).read_text(encoding="utf-8"))
        yield from ((text, None) for text in _said(table, keys, said=False))


def _said(value: Any, keys: frozenset[str], *, said: bool) -> Iterator[str]:
    match value:
        case dict():
            for key, inner in value.items():
                yield from _said(inner, keys, said=said or key in keys)
        case list():
            for inner in value:
                yield from _said(inner, keys, said=said)
        case str() if said:
            yield value


def main() -> None:
    """Bring every language in step, and say what waits."""
    for language in TRANSLATED:
        made = in_step(language)
        (FOLDER / f"{language}.po").write_bytes(written(made))
        waiting = sum(1 for message in made if message.id and not message.string)
        print(f"{language}: {len(made)} texts, {waiting} to be translated")  # noqa: T201  # it is run by hand


if __name__ == "__main__":
    main()
