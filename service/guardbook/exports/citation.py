"""What a citation of a record says, whatever form it is then written in.

What is cited is the description: its address, its revision and the day of that, and the day it was read.
Those who described it are named; those who did what an event tells of are not its authors.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from guardbook import settings
from guardbook.exports.surroundings import Surroundings
from guardbook.records.base import Record
from guardbook.records.kinds import EVENT_KINDS


@dataclass(frozen=True, kw_only=True)
class Citation:
    """The facts of one citation; `revision` and `revised` are None for a record that is kept nowhere.

    `cite_as` is how the record itself wants its object to be cited.
    """

    iri: str
    key: str
    title: str
    authors: tuple[str, ...]
    catalogue: str
    revision: int | None
    revised: date | None
    seen: date
    keeper: str | None
    shelfmark: str | None
    cite_as: str | None
    note: str | None
    licence: str | None
    rights_holder: str | None


def citations(records: Iterable[Record], around: Surroundings) -> Iterator[Citation]:
    """Give the citation of each record, texts on one line."""
    return (_citation(record, around) for record in records)


def _citation(record: Record, around: Surroundings) -> Citation:
    kept = around.kept(record.id)
    return Citation(
        iri=record.id,
        key=record.short.replace("/", "-"),
        title=_line(record.display_title),
        authors=tuple(_authors(record, around)),
        catalogue=settings.current().name,
        revision=kept.revision if kept else None,
        revised=kept.when.date() if kept else None,
        seen=around.today,
        keeper=_line_or_none(around.name(getattr(record, "keeper", None))),
        shelfmark=_line_or_none(getattr(record, "shelfmark", None)),
        cite_as=_line_or_none(getattr(record, "citation", None)),
        note=_line_or_none(record.note),
        licence=getattr(record, "licence", None),
        rights_holder=_line_or_none(getattr(record, "rights_holder", None)),
    )


def _authors(record: Record, around: Surroundings) -> Iterator[str]:
    named = () if record.kind in EVENT_KINDS else getattr(record, "by", None) or ()
    for iri in (getattr(record, "seen_by", None), *((named,) if isinstance(named, str) else named)):
        if name := around.name(iri):
            yield _line(name)


def _line(text: str) -> str:
    # every kind of line end and space, so that no text begins a line of its own in a form made of lines
    return " ".join(text.split())


def _line_or_none(text: str | None) -> str | None:
    return _line(text) if text else None
