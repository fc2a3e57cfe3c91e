"""One workshop number stands for one record, whatever its spelling."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

from guardbook.catalogue.folding import words
from guardbook.errors import Fault, raise_faults
from guardbook.records.base import Record
from guardbook.wording import _

_HOLDERS = "SELECT iri FROM heads WHERE number_key = ? ORDER BY id"


def number_key(number: str | None) -> str | None:
    """Give a workshop number as it is compared: `W-12/b` is `w 12 b`, and is not `W1.2b`."""
    return " ".join(words(number or "")) or None


def check(connection: sqlite3.Connection, records: Iterable[Record]) -> None:
    """Raise InvalidRecord, naming every one, if a workshop number of these records has two holders."""
    raise_faults(
        [fault for record in records if record.workshop_number for fault in _faults(connection, record)],
        _("One workshop number stands for one record."),
    )


def _faults(connection: sqlite3.Connection, record: Record) -> list[Fault]:
    number = record.workshop_number or ""
    others = [iri for iri in holders(connection, number) if iri != record.id]
    return [
        Fault(
            where=f"{record.short} workshopNumber",
            found=repr(number),
            expected=_("a number that no other record has ({records} has it)").format(
                records=", ".join(others)
            ),
            mend=_("Give one of them another number, or save onto the record that has it."),
        )
    ] * bool(others)


def holders(connection: sqlite3.Connection, number: str) -> list[str]:
    """Give the living records that have this workshop number, in whatever spelling."""
    return [row["iri"] for row in connection.execute(_HOLDERS, (number_key(number),))]
