"""Volumes, pieces and events for trying what they prove, and short ways to ask."""

from __future__ import annotations

from typing import Any

from guardbook.evidence.dated import Dating
from guardbook.evidence.dating import dating_of
from guardbook.evidence.limits_of import Limits
from guardbook.records.base import Record
from guardbook.records.placing import Placing
from tests.binding.bench import dossier, iri, piece, placing, stage, volume

BOOK = iri("host", "Book")


def book(text: str | None = "1600", *dates: str | None, **fields: Any) -> Record:
    """Make a volume called Book, bound at stage 1, with a stage for each date; the first may be None."""
    if text:
        fields["textDate"] = text
    return volume("Book", *(dates or (None, "2020")), **fields)


def pastedown(made: str, original: str | None = "yes", **fields: Any) -> tuple[Record, Placing]:
    """Make a dated pastedown and its placing in the book at stage 1."""
    given = {"originalToAssembly": original} if original else {}
    put = placing("pasted", "Pastedown", "Book", 1, function="pastedown", **given, **fields)
    return piece("Pastedown", dateMade=made), put


def dated(*records: Record, about: str = BOOK) -> Dating:
    """Work out the dates of a record among others."""
    return dating_of(dossier(*records), about)


def limits(found: Dating, time: str = stage("Book", 1)) -> Limits:
    """Give the limits of a time, the binding where none is named."""
    one = found.time(time)
    assert one is not None
    return one.limits


def years(found: Limits) -> tuple[int | None, int | None]:
    """Give the first and the last year that some limits leave."""
    early, late = found.earliest, found.latest
    return early.day[0] if early else None, late.day[0] if late else None
