"""What comes out of a file before it is a record: drafts, with everything found wrong or worth saying."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from guardbook.errors import Fault
from guardbook.records.base import Record
from guardbook.wording import _

MOST_FAULTS = 2000


@dataclass(frozen=True)
class Mention:
    """How a person named another record: by identifier, workshop number or name."""

    text: str


@dataclass(frozen=True)
class StageMention:
    """How a person named a stage of a host: by number, kind or name, after `host #` if need be."""

    text: str


@dataclass(frozen=True)
class SameRow:
    """Stands for the record of this kind that is drafted from the same row."""

    kind: str


@dataclass(frozen=True, kw_only=True)
class WholeDraft:
    """A whole record, from JSON or RDF; it replaces the revision it started from."""

    record: Record
    where: str
    revision: int | None = None


@dataclass(frozen=True, kw_only=True)
class RowDraft:
    """What one row of a spreadsheet says of one record; it is laid over what is known already.

    Fields go by their JSON names. `values` are single fields (a Mention, StageMention or SameRow where
    another record is meant), `parts` the fields of the one part that a row can describe (`positions`),
    `lists` whole lists of parts, `answers` what was looked for and not found. `cells` says where each
    field stood (`height`, `positions.x`), `row` is the same for all drafts of a row.
    """

    kind: str
    row: str
    where: str
    values: Mapping[str, Any]
    parts: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    lists: Mapping[str, tuple[Mapping[str, Any], ...]] = field(default_factory=dict)
    answers: Mapping[str, str] = field(default_factory=dict)
    cells: Mapping[str, str] = field(default_factory=dict)
    revision: int | None = None


Draft = WholeDraft | RowDraft


@dataclass(frozen=True)
class Intake:
    """Everything one file holds: drafts, all that is wrong with it, and what the person should know.

    `broken` holds the IRIs of the records that are in the file, but not right yet.
    """

    drafts: tuple[Draft, ...] = ()
    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()
    broken: frozenset[str] = frozenset()


@dataclass
class Findings:
    """Collects faults and notes while a file is read; notes of one kind are counted, not repeated."""

    faults: list[Fault] = field(default_factory=list)
    examples: dict[str, list[str]] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)

    @property
    def full(self) -> bool:
        """Tell whether so much is wrong that reading on helps nobody."""
        return len(self.faults) >= MOST_FAULTS

    def fault(self, where: str, found: str, expected: str, mend: str = "") -> None:
        """Note something wrong."""
        self.faults.append(Fault(where=where, found=found, expected=expected, mend=mend))

    def refused(self, where: str, found: str, refusal: ValueError) -> None:
        """Note something wrong, from an error that says `expected. Mend.`."""
        expected, _stop, mend = str(refusal).partition(". ")
        self.fault(where, found, expected, mend)

    def ask(self, where: str, found: str, taken: str, other: str) -> None:
        """Note a value with two readings; the first is taken if the person is sure."""
        expected = _("{taken} (it may also be {other})").format(taken=taken, other=other)
        mend = _("Write it in a way that leaves one reading, or say that you are sure: then it is {taken}.")
        mend = mend.format(taken=taken)
        fault = Fault(where=where, found=found, expected=expected, mend=mend, doubt=True, two_readings=True)
        self.faults.append(fault)

    def note(self, sentence: str, example: str = "") -> None:
        """Note something the person should know; `example` is one case of what the sentence says."""
        self.examples.setdefault(sentence, []).append(example)

    @property
    def notes(self) -> tuple[str, ...]:
        """Give the notes, each once, with how many cases there were and the first."""
        return tuple(_counted(sentence, cases) for sentence, cases in self.examples.items())


def _counted(sentence: str, cases: list[str]) -> str:
    first = next(filter(None, cases), "")
    if not first:
        return f"{sentence}."
    if len(cases) == 1:
        return _("{sentence}: {case}.").format(sentence=sentence, case=first)
    many = _("{sentence} ({count} times): first {case}.")
    return many.format(sentence=sentence, count=len(cases), case=first)


def shown(value: object) -> str:
    """Give what was found as it goes into a fault, cut short where it is long."""
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 80 else text[:77] + "..."
