"""The rows of evidence: what signs may mean, ours from `shapes/evidence.toml` and the workshop's own."""

from __future__ import annotations

import inspect
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from guardbook import settings
from guardbook.catalogue.questions import checked
from guardbook.errors import BrokenShapes, QueryRefused
from guardbook.evidence.sign_table import SIGNS
from guardbook.wording import LANGUAGES, _, language

FILE = "evidence.toml"
STRENGTHS = ("settles", "points-to", "fits", "speaks-against", "rules-out")


@dataclass(frozen=True, kw_only=True)
class Looked:
    """A sign to look for, and the measures it is looked for with."""

    see: str
    measures: tuple[tuple[str, Any], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Other:
    """Another explanation: the sign that shows that it stands, or that excludes it, and what would decide."""

    words: str
    stands: Looked | None = None
    excluded: Looked | None = None
    against: str = "speaks-against"
    decide: str = ""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row: what signs (or the answer to a SPARQL ASK) about a kind of subject mean, and how strongly."""

    id: str
    about: str
    claim: str
    claim_words: str
    strength: str
    signs: tuple[Looked, ...] = ()
    ask: str | None = None
    observation: str = ""
    alternatives: tuple[Other, ...] = ()
    decide: str = ""
    source: str = FILE


@dataclass(frozen=True)
class Rows:
    """All rows that can be used, and a sentence for each file or row of the workshop's that cannot."""

    rows: tuple[Row, ...]
    skipped: tuple[str, ...] = ()


def reading_rows() -> Rows:
    """Give our rows and the workshop's own. Raises BrokenShapes where ours cannot be used."""
    here = settings.current()
    ours = _ours(here.shapes / FILE)
    folder = here.workshop_shapes
    paths = sorted(folder.glob("*.toml")) if folder and folder.is_dir() else []
    return _with_workshop(ours, tuple((path, path.stat().st_mtime_ns) for path in paths), language())


@lru_cache(maxsize=4)
def _ours(path: Path) -> Rows:
    found = _read(path)
    if found.skipped:
        raise BrokenShapes(message=" ".join(found.skipped))
    return found


@lru_cache(maxsize=8 * len(LANGUAGES))
def _with_workshop(ours: Rows, files: tuple[tuple[Path, int], ...], _language: str) -> Rows:
    """Read them once a language: the reasons why one cannot be used are told in it."""
    rows, skipped = list(ours.rows), list[str]()
    for path, _changed in files:
        found = _read(path, {row.claim: row.claim_words for row in ours.rows})
        rows += found.rows
        skipped += found.skipped
    return Rows(tuple(rows), tuple(skipped))


def _read(path: Path, claims: Mapping[str, str] | None = None) -> Rows:
    """Read one file; what cannot be used is named and left out, the rest is used."""
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        known = {**(claims or {}), **table.get("claims", {})}
        listed = list(table.get("rows", ()))
    except (
        OSError,
        UnicodeDecodeError,
        tomllib.TOMLDecodeError,
        TypeError,
        ValueError,
        AttributeError,
    ) as error:
        told = _("{file} was not used: it cannot be read ({reason}).")
        return Rows((), (told.format(file=path.name, reason=error),))
    rows: list[Row] = []
    skipped: list[str] = []
    for number, raw in enumerate(listed, start=1):
        try:
            rows.append(_row(raw, known, path.name))
        except (KeyError, TypeError, ValueError, AttributeError, QueryRefused) as error:
            name = raw.get("id", number) if isinstance(raw, dict) else number
            told = _("Row {row} of {file} was not used: {reason}")
            reason = str(error).strip("'\"")
            skipped.append(told.format(row=name, file=path.name, reason=reason))
    return Rows(tuple(rows), tuple(skipped))


def _row(raw: Mapping[str, Any], claims: Mapping[str, str], source: str) -> Row:
    about, ask = raw["about"], raw.get("ask")
    if about not in SIGNS:
        told = _("about is {found}, expected one of {names}.")
        raise ValueError(told.format(found=repr(about), names=", ".join(SIGNS)))
    signs = tuple(_looked(sign, about) for sign in raw.get("signs", ()))
    if bool(signs) == bool(ask):
        raise ValueError(_("expected either signs or an ask, and one of them."))
    return Row(
        id=raw["id"],
        about=about,
        claim=raw["claim"],
        claim_words=claims.get(raw["claim"]) or raw["claim_words"],
        strength=_strength(raw["strength"]),
        signs=signs,
        ask=_asked(ask) if ask else None,
        observation=raw["observation"] if ask else "",
        alternatives=tuple(_other(other, about) for other in raw.get("alternatives", ())),
        decide=raw.get("decide", ""),
        source=source,
    )


def _other(raw: Mapping[str, Any], about: str) -> Other:
    return Other(
        words=raw["words"],
        stands=_looked(raw["stands"], about) if "stands" in raw else None,
        excluded=_looked(raw["excluded"], about) if "excluded" in raw else None,
        against=_strength(raw.get("against", "speaks-against")),
        decide=raw.get("decide", ""),
    )


def _looked(raw: Mapping[str, Any], about: str) -> Looked:
    name, measures = raw["see"], {key: value for key, value in raw.items() if key != "see"}
    known = SIGNS[about]
    if name not in known:
        told = _("no sign {sign} of a {about}; known are {names}.")
        raise ValueError(told.format(sign=repr(name), about=about, names=", ".join(known)))
    wanted = set(inspect.signature(known[name]).parameters) - {about, *_FIRST}
    if wanted != measures.keys():
        told = _("the sign {sign} needs {measures}.") if wanted else _("the sign {sign} needs no measures.")
        raise ValueError(told.format(sign=repr(name), measures=", ".join(sorted(wanted))))
    return Looked(see=name, measures=tuple(measures.items()))


# how the signs call the subject they look at
_FIRST = ("binding", "side", "piece", "pair")


def _strength(word: str) -> str:
    if word not in STRENGTHS:
        told = _("strength is {found}, expected one of {names}.")
        raise ValueError(told.format(found=repr(word), names=", ".join(STRENGTHS)))
    return word


def _asked(text: str) -> str:
    """Give a question that may be put, an ASK about named graphs only. Raises ValueError, QueryRefused."""
    question = checked(text)
    if "$this" not in text and "?this" not in text:
        raise ValueError(_("the ask does not name $this, the record in question."))
    if "ASK" not in text.upper():
        raise ValueError(_("the question is no ASK."))
    return str(question)
