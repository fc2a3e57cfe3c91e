"""From the first row of a sheet to its columns: by label in any language, or by the name of the field.

`Height (cm)` states a unit, `height x width` two columns in one, `Separation: Date` whose date is meant. A
heading that begins with `#` is left out with its whole column.
"""

from __future__ import annotations

import difflib
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from guardbook.intake.columns import Column, Holds, columns_of, elsewhere
from guardbook.intake.drafts import Findings
from guardbook.intake.words import models_of, words
from guardbook.records.terms import folded
from guardbook.units import length_mm, plain, unit_named
from guardbook.wording import LANGUAGES, _, either

_BY_NAME = "name"
_UNIT = re.compile(
    r"(?P<label>.*?)[\s,]*(?:\b(?:in|en|em)\s+)?[(\[]?\s*(?P<unit>[^\s()\[\]]+)\s*[)\]]?", re.DOTALL
)
_TIMES = re.compile(r"\s+x\s+|\s*×\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Heading:
    """The heading of one column of a sheet: what it stands for, its unit if it names one, and where it is.

    There is more than one column where the heading joins dimensions (`height x width`).
    """

    columns: tuple[Column, ...]
    where: str
    unit: str = "mm"


def label_in_sheet(column: Column, kind: str, language: str) -> str:
    """Give the label that leads back to this column and no other in a sheet of its kind."""
    for text in _spellings(column, language):
        if _found(text, kind, (language,)) == (column,):
            return text
    raise LookupError(f"{column.model} {column.name} has no heading of its own in '{language}'")


def _spellings(column: Column, language: str) -> Iterator[str]:
    """Give the label alone, with its part before it, and with its record before it."""
    label, before = column.label(language), words()["before"]
    yield label
    for name in (column.path[0], column.model):
        if name in before:
            label = f"{before[name][language]}: {label}"
            yield label


def match_headings(texts: Sequence[tuple[str, str]], kind: str, findings: Findings) -> list[Heading | None]:
    """Match headings, given as (text, where), to the columns of a kind of sheet; None leaves a column out.

    Unknown and repeated headings, and those that may mean several columns, are noted as faults.
    """
    languages = _languages([text for text, _where in texts], kind)
    matched = [_one(text, where, kind, languages, findings) for text, where in texts]
    seen: dict[Column, str] = {}
    for at, heading in enumerate(matched):
        for column in heading.columns if heading else ():
            if column in seen:
                expected = _("each column once ({heading} is the same)").format(heading=repr(seen[column]))
                findings.fault(texts[at][1], repr(texts[at][0]), expected, _("Keep one of them."))
                matched[at] = None
            seen[column] = texts[at][0]
    return matched


def _one(text: str, where: str, kind: str, languages: tuple[str, ...], findings: Findings) -> Heading | None:
    if not text or text.startswith("#"):
        return None
    heading = _heading(text, where, kind, languages)
    if not isinstance(heading, Heading):
        findings.fault(where, repr(text), *heading)
        return None
    if heading.unit != "mm":
        length = plain(length_mm("45", heading.unit).value)
        taken = _("lengths in {unit}, 45 being {length} mm").format(unit=heading.unit, length=length)
        findings.ask(where, repr(text), taken, _("lengths in mm"))
    return heading


def _heading(text: str, where: str, kind: str, languages: tuple[str, ...]) -> Heading | tuple[str, str]:
    candidates = _found(text, kind, languages)
    if len(candidates) == 1:
        return Heading(candidates, where)
    if candidates:
        return _("a heading that means one column"), _choices(candidates, kind, languages[0])
    label, unit = _unit_of(text)
    measured = _lengths(label, kind, languages)
    if measured and (unit or len(measured) > 1):
        return Heading(measured, where, unit or "mm")
    return _("a column of this sheet"), _suggestion(text, kind, languages[0])


def _unit_of(text: str) -> tuple[str, str | None]:
    found = _UNIT.fullmatch(text.strip())
    unit = unit_named(found["unit"]) if found else None
    return (found["label"], unit) if found and unit else (text, None)


def _lengths(label: str, kind: str, languages: tuple[str, ...]) -> tuple[Column, ...]:
    """Give the columns of lengths that a label stands for, several where it joins them with x."""
    found = [_found(piece, kind, languages) for piece in _TIMES.split(label)]
    if not all(len(columns) == 1 and columns[0].holds is Holds.LENGTH for columns in found):
        return ()
    return tuple(columns[0] for columns in found)


def _found(text: str, kind: str, languages: tuple[str, ...]) -> tuple[Column, ...]:
    """Give what a heading may mean: by the field's name, else in the likeliest languages, else in any."""
    known = _known(kind).get(folded(text), {})
    for readers in ((_BY_NAME,), languages, LANGUAGES):
        columns = dict.fromkeys(column for reader in readers for column in known.get(reader, ()))
        if columns:
            return _nearest(tuple(columns), kind)
    return ()


def _nearest(columns: tuple[Column, ...], kind: str) -> tuple[Column, ...]:
    """Prefer a field of the sheet's main record where others share its label."""
    main = models_of(kind)[0]
    own = tuple(column for column in columns if column.model == main and len(column.path) == 1)
    return own or columns


@lru_cache(maxsize=16)
def _known(kind: str) -> Mapping[str, Mapping[str, tuple[Column, ...]]]:
    """Sort the columns of a sheet by folded heading, and by the language it is in."""
    found: dict[str, dict[str, dict[Column, None]]] = defaultdict(lambda: defaultdict(dict))
    for column in columns_of(kind):
        for name in _names(column):
            found[folded(name)][_BY_NAME][column] = None
        for language in LANGUAGES:
            for label in _spellings(column, language):
                for text in (label, re.sub(r"\s*\([^)]*\)$", "", label)):
                    found[folded(text)][language][column] = None
    return {
        text: {reader: tuple(columns) for reader, columns in by_reader.items()}
        for text, by_reader in found.items()
    }


def _names(column: Column) -> Iterator[str]:
    """Give the names a field goes by without its label: `linePitch`, `line_pitch`, `placing.when`, `x`."""
    snake = ".".join(re.sub(r"(?<!^)(?=[A-Z])", "_", step).lower() for step in column.path)
    for name in {column.name, snake}:
        yield name
        yield f"{column.kind}.{name}"
    if column.holds is not Holds.HOLES:
        yield column.path[-1]


def _languages(texts: list[str], kind: str) -> tuple[str, ...]:
    """Give the languages that know most of the headings."""
    known = _known(kind)
    count = Counter(
        language for text in texts for language in known.get(folded(text), ()) if language != _BY_NAME
    )
    most = max(count.values(), default=0)
    return tuple(language for language in LANGUAGES if count[language] == most)


def _choices(columns: tuple[Column, ...], kind: str, language: str) -> str:
    names = [label_in_sheet(column, kind, language) for column in columns]
    return _("Write {names}.").format(names=either(map(repr, names)))


def _suggestion(text: str, kind: str, language: str) -> str:
    wanted = folded(_unit_of(text)[0])
    if wanted in elsewhere(kind):
        outside = _("'{field}' does not fit in a cell: give it in JSON or Turtle.")
        return outside.format(field=elsewhere(kind)[wanted])
    known = _known(kind)
    close = difflib.get_close_matches(wanted, known, n=3, cutoff=0.7)
    columns = dict.fromkeys(column for name in close for found in known[name].values() for column in found)
    names = [repr(label_in_sheet(column, kind, language)) for column in list(columns)[:3]]
    hint = _("Did you mean {names}?").format(names=either(names)) if names else ""
    leave_out = _("To leave the column out, begin its heading with #.")
    return f"{hint} {leave_out}".lstrip()
