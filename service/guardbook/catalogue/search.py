"""Find records by words, parts of numbers and facets, from the ledger's tables alone."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.facets import facet_schemes, span_of, with_narrower
from guardbook.catalogue.folding import squeezed, words
from guardbook.catalogue.ledger import revision_of
from guardbook.catalogue.revisions import Revision
from guardbook.catalogue.standing import STANDING
from guardbook.catalogue.workshop_numbers import number_key
from guardbook.errors import Fault, WrongUse
from guardbook.records import terms
from guardbook.records.kinds import KINDS
from guardbook.wording import _

Counts = Mapping[str, Mapping[str, int]]

# Row 2 * id + audience: see schema.sql.
_IN_TEXT = "SELECT rowid / 2 FROM texts WHERE texts MATCH :{0}_text AND rowid % 2 = :audience"
_IN_CODE = "SELECT rowid / 2 FROM codes WHERE codes MATCH :{0}_code AND rowid % 2 = :audience"
# The index of codes holds runs of three characters; shorter ones are looked for in each row.
_IN_CODE_SHORT = "SELECT rowid / 2 FROM codes WHERE code LIKE :{0}_code AND rowid % 2 = :audience"
_IN_TERMS = (
    "SELECT named_by.id FROM facets JOIN heads AS named_by ON named_by.iri = subject "
    "WHERE audience = :audience AND (name, value) IN "
    "(SELECT json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(:{0}_terms))"
)
_WITH_FACET = (
    "SELECT subject FROM {1} WHERE audience = :audience AND name = :{0}_name "
    "AND value IN (SELECT value FROM json_each(:{0}_values))"
)
_BY_FACET = (
    f"iri IN ({_WITH_FACET.format('{0}', 'facets')} UNION ALL {_WITH_FACET.format('{0}', 'standings')})"
)
_MATCHING = "SELECT heads.id, number_key = :number AS numbered FROM heads WHERE {0}"
_FITTING = """
    SELECT rowid / 2 AS id, bm25(texts, 4.0, 1.0) AS far FROM texts
    WHERE texts MATCH :any_word AND rowid % 2 = :audience
"""
_COUNTED = """
    WITH found (iri, kind) AS (
        SELECT iri, kind FROM heads WHERE id IN (SELECT value FROM json_each(:ids))
    )
    SELECT name, value, count(DISTINCT subject) AS records FROM (
        SELECT name, value, subject FROM found JOIN facets ON subject = iri AND audience = :audience
        UNION ALL
        SELECT name, value, subject FROM found JOIN standings ON subject = iri AND audience = :audience
        WHERE name IN (SELECT value FROM json_each(:standing))
        UNION ALL
        SELECT 'kind', kind, iri FROM found
    ) GROUP BY name, value ORDER BY name, records DESC, value
"""
_SPANS = """
    SELECT earliest, latest FROM heads
    WHERE earliest IS NOT NULL AND id IN (SELECT value FROM json_each(?))
"""


@dataclass(frozen=True)
class Search:
    """What is looked for. `facets` are names and values; `date` is an EDTF date that theirs must meet."""

    words: str
    kind: str | None
    facets: Mapping[str, str]
    audience: Audience


def matching(connection: sqlite3.Connection, search: Search) -> list[int]:
    """Give the heads that match, the best first. Raises WrongUse naming an unknown kind or facet."""
    _check(search)
    values: dict[str, object] = {"audience": int(search.audience), "kind": search.kind}
    conditions = ["NOT tombstone"]
    if search.audience is Audience.PUBLIC:
        conditions.append("public")
    if search.kind:
        conditions.append("kind = :kind")
    asked = search.words.split()
    for number, word in enumerate(asked):
        conditions.append(_word_condition(f"word{number}", word, values))
    for number, (name, value) in enumerate(search.facets.items()):
        conditions.append(_facet_condition(f"facet{number}", name, value, values))
    values["number"] = number_key(search.words)
    values["any_word"] = " OR ".join(filter(None, map(_text_question, asked)))
    rows = connection.execute(_MATCHING.format(" AND ".join(conditions)), values)
    found = [(row["id"], row["numbered"]) for row in rows]
    far = dict(connection.execute(_FITTING, values).fetchall()) if values["any_word"] else {}
    return [
        head for head, _numbered in sorted(found, key=lambda one: (not one[1], far.get(one[0], 0.0), one[0]))
    ]


def revisions_of(connection: sqlite3.Connection, heads: Sequence[int]) -> list[Revision]:
    """Give the newest revisions of these heads, in their order."""
    question = "SELECT revisions.* FROM heads JOIN revisions USING (sequence) WHERE id = ?"
    return [revision_of(connection.execute(question, (head,)).fetchone()) for head in heads]


def counted(connection: sqlite3.Connection, heads: Sequence[int], audience: Audience) -> Counts:
    """Give how many of these records have each value of each facet, the most frequent first."""
    found: dict[str, dict[str, int]] = {}
    rows = connection.execute(
        _COUNTED, {"ids": json.dumps(heads), "audience": int(audience), "standing": json.dumps(STANDING)}
    )
    for row in rows:
        found.setdefault(row["name"], {})[row["value"]] = row["records"]
    return found


def spans(connection: sqlite3.Connection, heads: Sequence[int]) -> list[tuple[int, int]]:
    """Give the earliest and latest day of those of these records that are dated (see `facets.span`)."""
    rows = connection.execute(_SPANS, (json.dumps(heads),))
    return [(row["earliest"], row["latest"]) for row in rows]


def _check(search: Search) -> None:
    known = {*facet_schemes(), *STANDING, "date", "kind"}
    faults = [
        Fault(where="facets", found=repr(name), expected=_one_of(sorted(known)))
        for name in search.facets
        if name not in known
    ]
    if search.kind and search.kind not in KINDS:
        faults.append(Fault(where="kind", found=repr(search.kind), expected=_one_of(KINDS)))
    if "date" in search.facets:
        faults += _date_faults(search.facets["date"])
    if faults:
        raise WrongUse(message=_("This cannot be searched for."), faults=tuple(faults))


def _one_of(names: Iterable[str]) -> str:
    return _("one of {names}").format(names=", ".join(names))


def _date_faults(date: str) -> list[Fault]:
    try:
        span_of(date)
    except ValueError as error:
        expected, _stop, mend = str(error).partition(". ")
        return [Fault(where="facets date", found=repr(date), expected=expected, mend=mend)]
    return []


def _word_condition(name: str, word: str, values: dict[str, object]) -> str:
    """A word is met by the beginning of a word, by a part of a number or shelfmark, or by a term's label."""
    code = squeezed(word)
    if not code:
        return "TRUE"
    short = len(code) < 3
    values[f"{name}_text"] = _text_question(word)
    values[f"{name}_code"] = f"%{code}%" if short else f'"{code}"'
    values[f"{name}_terms"] = json.dumps(_facets_called(tuple(words(word))))
    met = (_IN_TEXT, _IN_CODE_SHORT if short else _IN_CODE, _IN_TERMS)
    return f"heads.id IN ({' UNION ALL '.join(met)})".format(name)


def _text_question(word: str) -> str:
    """Give the FTS5 question for one word as written, which may be several to the index, such as `l'any`."""
    return f'"{" ".join(found)}"*' if (found := words(word)) else ""


def _facet_condition(prefix: str, name: str, value: str, values: dict[str, object]) -> str:
    if name == "date":
        values["from_day"], values["to_day"] = span_of(value)
        return "earliest <= :to_day AND latest >= :from_day"
    if name == "kind":
        values[f"{prefix}_kind"] = value
        return f"kind = :{prefix}_kind"
    values[f"{prefix}_name"] = name
    values[f"{prefix}_values"] = json.dumps(with_narrower(name, value))
    return _BY_FACET.format(prefix)


@lru_cache(maxsize=1)
def _labels() -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    """Give every word in every name of every term that is a facet, in all languages."""
    found = []
    for name, scheme in facet_schemes().items():
        for slug, concept in terms.all_concepts().get(scheme or "", {}).items():
            names = (slug, *concept.labels.values(), *concept.other_labels)
            found.append((name, slug, tuple(dict.fromkeys(word for text in names for word in words(text)))))
    return tuple(found)


@lru_cache(maxsize=1024)
def _facets_called(asked: tuple[str, ...]) -> list[tuple[str, str]]:
    """Give the facet values in whose names each of these words begins a word."""
    return [
        (name, value)
        for name, slug, called in _labels()
        if all(any(word.startswith(part) for word in called) for part in asked)
        for value in with_narrower(name, slug)
    ]
