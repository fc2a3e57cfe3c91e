"""Which records the public may see, settled in the same commit as the change that decides it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable

from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.redaction import Redaction
from guardbook.catalogue.withheld import Withheld, spellings

_BY_ALL_IT_NEEDS = """
    SELECT iri, public, own_public AND NOT EXISTS (
        SELECT 1 FROM named LEFT JOIN heads AS other ON other.iri = named.target
        WHERE named.id = heads.id AND named.needed AND named.target != heads.iri
        AND NOT coalesce(other.public, 0)
    ) AS now
    FROM heads WHERE id = ?
"""


def settle(connection: sqlite3.Connection, changed: Iterable[int]) -> set[int]:
    """Decide again whether the changed records are public, and whatever hangs on them.

    Gives the heads whose public rows must be made again, since something they name came in or out of sight.
    """
    waiting = list(changed)
    touched: set[int] = set()
    while waiting:
        iri, public, now = connection.execute(_BY_ALL_IT_NEEDS, (waiting[-1],)).fetchone()
        head = waiting.pop()
        if public == now:
            continue
        connection.execute("UPDATE heads SET public = ? WHERE id = ?", (now, head))
        rows = connection.execute("SELECT id, needed FROM named WHERE target = ?", (iri,)).fetchall()
        touched |= {row["id"] for row in rows}
        waiting += [row["id"] for row in rows if row["needed"]]
    return touched


def withheld_names(connection: sqlite3.Connection) -> frozenset[str]:
    """Give the names of all people and bodies that the public may not see."""
    rows = connection.execute("SELECT name FROM names JOIN heads USING (iri) WHERE NOT public")
    return frozenset(row["name"] for row in rows)


def heads_that_mention(connection: sqlite3.Connection, names: Iterable[str]) -> set[int]:
    """Find the records in whose texts one of these names stands."""
    phrases = {" ".join(spelling) for name in names for spelling in spellings(name)}
    found: set[int] = set()
    for phrase in sorted(phrases):
        rows = connection.execute("SELECT rowid FROM texts WHERE texts MATCH ?", (f'"{phrase}"',))
        found |= {row["rowid"] // 2 for row in rows if row["rowid"] % 2 == Audience.WORKSHOP}
    return found


def may_see(connection: sqlite3.Connection) -> Callable[[str], bool]:
    """Give the judge of record IRIs: a record that is not here, or not yet, is not for the public."""
    question = "SELECT public FROM heads WHERE iri = ?"

    def judge(iri: str) -> bool:
        row = connection.execute(question, (iri,)).fetchone()
        return row is not None and bool(row["public"])

    return judge


def redaction(connection: sqlite3.Connection, withheld: Withheld) -> Redaction:
    """Give the redaction by the state of the catalogue that this connection sees."""
    return Redaction(may_see(connection), withheld)
