"""Records as the public sees them, in the order in which that changed: what its own graph is made from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from guardbook.catalogue import activities, chain
from guardbook.catalogue.audiences import Audience
from guardbook.catalogue.ledger import HeadBody, Ledger, Mark

# `whole` is the body where the public sees all of it: what was noted for it has the very hash of the revision
_NEWEST_OF_EACH = """
    SELECT told.iri, told.number, told.moment,
           CASE WHEN told.sha256 = revisions.sha256 THEN revisions.body END AS whole
    FROM (
        SELECT max(number) AS number FROM activities WHERE number > ? AND number <= ?
        GROUP BY iri ORDER BY number LIMIT ?
    ) JOIN activities AS told USING (number)
    LEFT JOIN heads ON heads.iri = told.iri LEFT JOIN revisions ON revisions.sequence = heads.sequence
    ORDER BY told.number
"""


@dataclass(frozen=True)
class PublicHeads:
    """Stands to the public's graph as the ledger to the workshop's.

    `body` gives the canonical N-Quads of a record as the public sees it, empty where it does not.
    """

    ledger: Ledger
    body: Callable[[str], str]

    @property
    def sequence(self) -> int:
        """Give the number of the newest activity."""
        with self.ledger.connections.reading() as connection:
            return activities.newest(connection, Audience.PUBLIC)

    def newest(self) -> Mark:
        """Give the place it has come to."""
        number = self.sequence
        return Mark(number, self.chain_at(number) or chain.START)

    def chain_at(self, sequence: int) -> str | None:
        """Give what tells this activity from one of another catalogue, or None if there is none."""
        question = "SELECT moment || ' ' || iri AS told FROM activities WHERE number = ?"
        with self.ledger.connections.reading() as connection:
            row = connection.execute(question, (sequence,)).fetchone()
        return str(row["told"]) if row else None

    def heads_between(self, after: int, newest: int, at_most: int) -> list[HeadBody]:
        """Give records whose newest activity lies there, as they are now."""
        with self.ledger.connections.reading() as connection:
            rows = connection.execute(_NEWEST_OF_EACH, (after, newest, at_most)).fetchall()
        return [
            HeadBody(
                row["iri"],
                row["number"],
                f"{row['moment']} {row['iri']}",
                row["whole"] or self.body(row["iri"]),
            )
            for row in rows
        ]
