"""Hold what is kept against itself: the ledger's chain, and all that is made from the ledger against it."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Any

import pyoxigraph as ox

from guardbook.catalogue import chain
from guardbook.catalogue.graph import Graph
from guardbook.catalogue.ledger import Ledger, new_tables, revision_of
from guardbook.catalogue.projection import Projection
from guardbook.catalogue.reindexing import Reindexing, place_of
from guardbook.errors import Fault
from guardbook.records.mapping import parse_canonical
from guardbook.wording import _, said_later

_MEND = said_later("Run `guardbook rebuild`.")
_DERIVED = {
    said_later("the table of newest revisions"): """
        SELECT iri, kind, identifier, sequence, number, tombstone, own_public, public, number_key,
               earliest, latest
        FROM heads ORDER BY iri""",
    said_later("the table of references"): """
        SELECT iri, target, needed FROM named JOIN heads USING (id) ORDER BY iri, target""",
    said_later("the table of names"): "SELECT iri, name FROM names ORDER BY iri, name",
    said_later("the facets"): """
        SELECT iri, audience, subject, name, value FROM facets JOIN heads ON heads.id = source
        ORDER BY iri, audience, subject, name, value""",
    said_later("what the public was told"): """
        SELECT iri, sha256 FROM (SELECT iri, sha256, max(number) FROM activities GROUP BY iri)
        WHERE sha256 IS NOT NULL ORDER BY iri""",
    said_later("the text index"): """
        SELECT iri, texts.rowid % 2, title, text, code FROM texts JOIN codes ON codes.rowid = texts.rowid
        LEFT JOIN heads ON heads.id = texts.rowid / 2 ORDER BY iri, texts.rowid % 2""",
}


def verify(ledger: Ledger, projection: Projection) -> tuple[Fault, ...]:
    """Give a fault for everything that does not fit: an altered entry, a stale graph, search or facet row."""
    with ledger.connections.reading() as connection:
        faults = [*_chain_faults(connection), *_derived_faults(connection)]
        faults += projection.ask(lambda graph: list(_graph_faults(connection, graph)))
    return tuple(faults)


def _chain_faults(connection: sqlite3.Connection) -> Iterator[Fault]:
    previous, expected = chain.START, 1
    for row in connection.execute("SELECT * FROM revisions ORDER BY sequence"):
        place = place_of(revision_of(row))
        if row["sequence"] != expected:
            yield _gap(place, expected, row["sequence"] - 1)
        if chain.body_hash(row["body"]) != row["sha256"]:
            yield _altered(place, _("a record that does not fit its own hash"))
        if row["previous"] != previous:
            yield _altered(place, _("a link that does not fit the entry before it"))
        if _link(row) != row["chain"]:
            yield _altered(place, _("a date, author, reason or number that does not fit its own hash"))
        previous, expected = row["chain"], row["sequence"] + 1


def _gap(place: str, first: int, last: int) -> Fault:
    missing = _("entries {first} to {last} missing before it").format(first=first, last=last)
    mend = _("Put back the last good backup.")
    return Fault(where=place, found=missing, expected=_("no gap"), mend=mend)


def _altered(place: str, found: str) -> Fault:
    mend = _("It was altered outside Guardbook: compare it with a backup.")
    return Fault(where=place, found=found, expected=_("the entry as it was saved"), mend=mend)


def _link(row: sqlite3.Row) -> str:
    return chain.link(
        sequence=row["sequence"],
        iri=row["iri"],
        number=row["number"],
        when=row["moment"],
        who=row["who"],
        what_for=row["what_for"],
        sha256=row["sha256"],
        tombstone=bool(row["tombstone"]),
        previous=row["previous"],
    )


def _derived_faults(connection: sqlite3.Connection) -> Iterator[Fault]:
    """Make every derived table again beside the ledger, in a file that goes away, and compare."""
    again = sqlite3.connect("", isolation_level=None)
    again.row_factory = sqlite3.Row
    try:
        again.execute("BEGIN")
        new_tables(again)
        yield from Reindexing(again, connection).run()
        for name, question in _DERIVED.items():
            there, wanted = _digests(connection, question), _digests(again, question)
            differing = {iri for iri, _digest in there.items() ^ wanted.items()}
            for iri in sorted(differing):
                yield Fault(
                    where=f"{_(name)}, {iri}",
                    found=_("other rows"),
                    expected=_("what the ledger says"),
                    mend=_(_MEND),
                )
    finally:
        again.close()


def _digests(connection: sqlite3.Connection, question: str) -> dict[str, str]:
    """Give one hash of all rows of each record."""
    rows: Iterable[tuple[Any, ...]] = map(tuple, connection.execute(question))
    return {
        str(iri): hashlib.sha256(repr(list(of_one)).encode()).hexdigest()
        for iri, of_one in groupby(rows, key=lambda row: row[0])
    }


def _graph_faults(connection: sqlite3.Connection, graph: Graph) -> Iterator[Fault]:
    rows = connection.execute(
        "SELECT iri, body FROM heads JOIN revisions USING (sequence, iri) WHERE NOT heads.tombstone"
    )
    strange = set(graph.names())
    for row in rows:
        strange.discard(row["iri"])
        if set(graph.quads(row["iri"])) != _as_stored(row["body"]):
            yield Fault(
                where=f"{_('the graph')}, {row['iri']}",
                found=_("other triples"),
                expected=_("those of the newest revision"),
                mend=_(_MEND),
            )
    for iri in sorted(strange):
        yield Fault(
            where=f"{_('the graph')}, {iri}",
            found=_("triples"),
            expected=_("no such record"),
            mend=_(_MEND),
        )


def _as_stored(body: str) -> set[ox.Quad]:
    """Give the triples as a store gives them back: it rewrites "1.50" as "1.5"."""
    try:
        store = ox.Store()
        store.extend(parse_canonical(body))
    except SyntaxError:
        return set()
    return set(store)
