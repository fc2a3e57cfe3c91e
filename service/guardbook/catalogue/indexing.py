"""Everything made from the ledger in the same commit: heads, search rows and facets, for each audience."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Mapping

from guardbook.catalogue import chain, publicity
from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.facets import facet_rows, span
from guardbook.catalogue.redaction import names_held_by, public_by_itself
from guardbook.catalogue.references import references_of
from guardbook.catalogue.revisions import Revision
from guardbook.catalogue.text_index import text_row, write_row
from guardbook.catalogue.withheld import Withheld
from guardbook.catalogue.workshop_numbers import number_key
from guardbook.records.base import Record
from guardbook.records.mapping import canonical, to_quads

_PUT_HEAD = """
    INSERT INTO heads (iri, kind, identifier, sequence, number, tombstone, own_public, public,
                       number_key, earliest, latest)
    VALUES (:iri, :kind, :identifier, :sequence, :number, 0, :own_public, 0, :number_key, :earliest, :latest)
    ON CONFLICT (iri) DO UPDATE SET
        sequence = :sequence, number = :number, tombstone = 0, own_public = :own_public,
        number_key = :number_key, earliest = :earliest, latest = :latest
"""
# Whether the public could see a record that is gone is kept: it decides who is told that it is gone.
_BURY_HEAD = """
    UPDATE heads SET sequence = :sequence, number = :number, tombstone = 1,
        number_key = NULL, earliest = NULL, latest = NULL
    WHERE iri = :iri
"""


def update(
    connection: sqlite3.Connection,
    changes: Mapping[Revision, Record | None],
    read: Callable[[int], Record | None],
) -> dict[int, str | None]:
    """Bring all derived rows up to date with new revisions (None: a tombstone).

    `read` gives the living record of a head. Whatever else hangs on the changed records is done again too:
    records that name one which came in or out of the public's sight, or in which a withheld name stands.
    Gives, for all of these, the hash of what the public now sees of them, None where it sees nothing.
    """
    names_before = publicity.withheld_names(connection)
    changed: dict[int, Record | None] = {}
    hashes: dict[int, str] = {}
    for revision, whole in changes.items():
        head = _head(connection, revision, whole)
        changed[head], hashes[head] = whole, revision.sha256
    for head, record in changed.items():
        _write(connection, head, Audience.WORKSHOP, record)
    touched = publicity.settle(connection, changed)
    names = publicity.withheld_names(connection)
    touched |= publicity.heads_that_mention(connection, names ^ names_before)
    redaction = publicity.redaction(connection, Withheld(names))
    seen: dict[int, str | None] = {}
    for head in changed.keys() | touched:
        record = changed[head] if head in changed else read(head)
        is_public = connection.execute("SELECT public FROM heads WHERE id = ?", (head,)).fetchone()["public"]
        public = redaction.of(record) if record and is_public else None
        _write(connection, head, Audience.PUBLIC, public)
        seen[head] = _hash_of(public, hashes.get(head) if public is record else None)
    return seen


def _hash_of(public: Record | None, known: str | None) -> str | None:
    """Give the hash of what the public sees; of most records that is the whole, whose hash is known."""
    if public is None:
        return None
    return known or chain.body_hash(canonical(to_quads(public)))


def _head(connection: sqlite3.Connection, revision: Revision, record: Record | None) -> int:
    place = {"iri": revision.iri, "sequence": revision.sequence, "number": revision.number}
    if record is None:
        connection.execute(_BURY_HEAD, place)
        return _id(connection, revision.iri)
    days = span(record) or (None, None)
    own = {
        "kind": record.kind,
        "identifier": record.identifier,
        "own_public": public_by_itself(record),
        "number_key": number_key(record.workshop_number),
        "earliest": days[0],
        "latest": days[1],
    }
    connection.execute(_PUT_HEAD, {**place, **own})
    head = _id(connection, revision.iri)
    _name(connection, head, record)
    return head


def _id(connection: sqlite3.Connection, iri: str) -> int:
    return int(connection.execute("SELECT id FROM heads WHERE iri = ?", (iri,)).fetchone()["id"])


def _name(connection: sqlite3.Connection, head: int, record: Record) -> None:
    needed: dict[str, bool] = {}
    for reference in references_of(record):
        needed[reference.target] = needed.get(reference.target, False) or reference.needed
    connection.execute("DELETE FROM named WHERE id = ?", (head,))
    connection.executemany(
        "INSERT INTO named (id, target, needed) VALUES (?, ?, ?)",
        [(head, target, need) for target, need in needed.items()],
    )
    add_names(connection, record)


def add_names(connection: sqlite3.Connection, record: Record) -> None:
    """Remember the names a person or body has, also when it has others later: old texts hold them still."""
    connection.executemany(
        "INSERT OR IGNORE INTO names (iri, name) VALUES (?, ?)",
        [(record.id, name) for name in sorted(names_held_by(record))],
    )


def _write(connection: sqlite3.Connection, head: int, audience: Audience, record: Record | None) -> None:
    write_row(connection, audience.row(head), text_row(record) if record else None)
    connection.execute("DELETE FROM facets WHERE source = ? AND audience = ?", (head, audience))
    if record:
        connection.executemany(
            "INSERT INTO facets (source, audience, subject, name, value) VALUES (?, ?, ?, ?, ?)",
            [(head, int(audience), *row) for row in sorted(facet_rows(record))],
        )
