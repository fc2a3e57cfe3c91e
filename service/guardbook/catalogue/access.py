"""The gate: whatever is read or written goes through here, and the public sees only what is for it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache

import pyoxigraph as ox

from guardbook.catalogue import (
    activities,
    differences,
    publicity,
    resolving,
    saving,
    search,
    standing,
    verify,
)
from guardbook.catalogue.activities import Activity
from guardbook.catalogue.audiences import Audience, Viewer
from guardbook.catalogue.datasets import Datasets
from guardbook.catalogue.harvested.elsewhere import Elsewhere
from guardbook.catalogue.ledger import Head, Ledger
from guardbook.catalogue.projection import Projection
from guardbook.catalogue.questions import own
from guardbook.catalogue.redaction import Redaction, private_fields, public_by_itself
from guardbook.catalogue.reindexing import Reindexing
from guardbook.catalogue.revisions import Change, Kept, Revision
from guardbook.catalogue.snippets import snippet
from guardbook.catalogue.sparql.question import Answer, Question
from guardbook.catalogue.withheld import Withheld
from guardbook.errors import Fault, NotAllowed, NotFound, WrongUse, raise_faults
from guardbook.records.base import Record, parts_of
from guardbook.records.mapping import parse_canonical, to_quads
from guardbook.wording import _, language

__all__ = ["Access", "Change", "Found", "Hit", "Kept", "Revision", "Viewer"]


@dataclass(frozen=True)
class Hit:
    """One record found, with the words around what was looked for."""

    iri: str
    kind: str
    title: str
    snippet: str
    workshop_number: str | None
    revision: int


@dataclass(frozen=True)
class Found:
    """What was found: a page of hits, how many there are in all, and the facets of all of them.

    `waiting` counts the pieces and volumes of the catalogue whose standing is not worked out yet.
    """

    hits: tuple[Hit, ...]
    total: int
    facets: search.Counts
    waiting: int = 0


class Access:
    """One viewer's view of an open catalogue."""

    def __init__(self, ledger: Ledger, projection: Projection, datasets: Datasets, viewer: Viewer) -> None:
        self.viewer = viewer
        self._ledger = ledger
        self._projection = projection
        self._datasets = datasets
        self.elsewhere = Elsewhere(datasets.harvested, viewer)
        self._audience = viewer.audience
        self._redacted = lru_cache(maxsize=2048)(self._redact)
        self._withheld = lru_cache(maxsize=2)(self._read_withheld)

    @property
    def sequence(self) -> int:
        """Give the sequence of the newest revision of all; it moves with every save."""
        return self._ledger.sequence

    def record(self, iri: str) -> Kept:
        """Give a record. Raises NotFound, naming near ones, and Gone, saying what happened."""
        head = self._living(iri)
        return self._kept(head.revision)

    def quads(self, iri: str) -> list[ox.Quad]:
        """Give the triples of a record in its named graph, literals exactly as saved."""
        head = self._living(iri)
        if self.viewer is Viewer.WORKSHOP:
            return parse_canonical(self._ledger.body(head.revision.sequence))
        return to_quads(self._kept(head.revision).record)

    def has(self, iri: str) -> bool:
        """Say whether a record is here for this viewer, and not taken out."""
        head = self._ledger.head(iri)
        return head is not None and self._sees(head) and not head.revision.tombstone

    def seen(self, iri: str) -> Kept | None:
        """Give a record, or None where there is none for this viewer, or it was taken out."""
        head = self._ledger.head(iri)
        return self._kept_or_none(head.revision) if head is not None and self._sees(head) else None

    def iris(self, kind: str | None = None) -> Iterator[str]:
        """Give the IRIs of all records, or of one kind, in the order in which they came in."""
        return iter(self._ledger.living(kind, self._audience))

    def taken_out(self) -> Iterator[str]:
        """Give the IRIs of all records that were taken out and of which this viewer may know."""
        return iter(self._ledger.taken_out(self._audience))

    def resolve(self, text: str) -> str:
        """Give the IRI that an address, an identifier in any spelling or a workshop number stands for.

        Raises NotFound, naming near ones, and WrongUse where the check symbol is wrong or two are meant.
        """
        with self._ledger.connections.reading() as connection:
            return resolving.resolve(connection, text, self._audience)

    def numbered(self, number: str) -> str | None:
        """Give the record that has this workshop number, in whatever spelling, or None."""
        with self._ledger.connections.reading() as connection:
            return resolving.numbered(connection, number, self._audience)

    def find(
        self,
        words: str = "",
        kind: str | None = None,
        facets: Mapping[str, str] | None = None,
        limit: int = 20,
        offset: int = 0,
    ) -> Found:
        """Find records: every word is met by the beginning of a word, part of a number, or a term's name.

        `facets` are names and values (a broader term finds the narrower ones too), and `date` an EDTF date
        that theirs must meet. Raises WrongUse for an unknown kind, facet or date.
        """
        wanted = search.Search(words, kind, facets or {}, self._audience)
        with self._ledger.connections.reading() as connection:
            heads = search.matching(connection, wanted)
            page = search.revisions_of(connection, heads[offset : offset + limit])
            counts = search.counted(connection, heads, self._audience)
            waiting = standing.count_unsettled(connection, self._audience)
        kept = (self._kept_or_none(revision) for revision in page)
        return Found(tuple(_hit(one, words) for one in kept if one), len(heads), counts, waiting)

    def spans(
        self, words: str = "", kind: str | None = None, facets: Mapping[str, str] | None = None
    ) -> list[tuple[int, int]]:
        """Give the earliest and latest day of all that is found and dated (see `facets.span`)."""
        wanted = search.Search(words, kind, facets or {}, self._audience)
        with self._ledger.connections.reading() as connection:
            return search.spans(connection, search.matching(connection, wanted))

    def standings(self, name: str) -> list[tuple[str, str]]:
        """Give the pieces and volumes that have a row of this name, with its value, in the order of values.

        Only what is worked out (see `settle`) is told.
        """
        return standing.standings(self._ledger.connections, self._audience, name)

    def settle(
        self, rules: str, work_out: Callable[[str], Collection[tuple[str, str]]], at_most: int = 10
    ) -> int:
        """Have some pieces and volumes worked out whose standing may have changed; give how many are left.

        `rules` stands for what `work_out` goes by, beside the records: where it is new, all are worked out.
        """
        some = standing.unsettled(self._ledger.connections, self._audience, rules, at_most)
        found = [(one, work_out(one.iri) if self.has(one.iri) else ()) for one in some]
        return standing.settle(self._ledger.connections, self._audience, found)

    def ask(self, question: Question) -> Answer:
        """Answer a SPARQL query over what this viewer may see, in a process of its own.

        Raises QueryRefused, QueryStopped, NotAcceptable, TooLarge and Busy.
        """
        return self._datasets.answer(question, self.viewer)

    def newest_activity(self) -> int:
        """Give the number of the newest activity that this viewer may know of; it moves with each change."""
        with self._ledger.connections.reading() as connection:
            return activities.newest(connection, self._audience)

    def activities(self, after: int, to: int) -> tuple[Activity, ...]:
        """Give what happened to records, as this viewer saw it, after one number up to another, in order."""
        with self._ledger.connections.reading() as connection:
            return activities.between(connection, self._audience, after, to)

    def last_activity(self, iri: str) -> Activity | None:
        """Give what this viewer last saw happen to a record, or None where it saw nothing."""
        with self._ledger.connections.reading() as connection:
            return activities.last_of(connection, self._audience, iri)

    def last_changes(self) -> Iterator[tuple[str, datetime]]:
        """Give every record in sight with the moment at which this viewer last saw it change."""
        with self._ledger.connections.reading() as connection:
            return activities.living(connection, self._audience)

    def about(self, iri: str) -> tuple[str, ...]:
        """Give the records that name this record or a part of it: events, images, readings, decisions."""
        record = self.record(iri).record
        return self.referring([iri, *(iri + part.id for part in parts_of(record))])

    def linked(self, iri: str, predicate: str) -> tuple[str, ...]:
        """Give the records that name this one by one property, by its JSON name."""
        self._living(iri)
        return self.referring([iri], predicate)

    def referring(self, targets: Sequence[str], predicate: str | None = None) -> tuple[str, ...]:
        """Give the records, sorted, that name one of these records or parts and are not it."""
        return tuple(sorted(iri for iri in self._naming(targets, predicate) if self.has(iri)))

    def not_shown(self, targets: Sequence[str], kinds: Collection[str]) -> int:
        """Count the records of some kinds that name one of these, and that this viewer may not see."""
        if self.viewer is Viewer.WORKSHOP:
            return 0
        named = self._naming(targets)
        return sum(iri.rsplit("/", 2)[-2] in kinds and not self.has(iri) for iri in named)

    def _naming(self, targets: Sequence[str], predicate: str | None = None) -> set[str]:
        """Find what names these; of a record that a viewer may not see it is not told who names it."""
        seen = [target for target in targets if self._may_know_of(target.partition("#")[0])]
        question = own("refer_to", target=[ox.NamedNode(target) for target in seen])
        own_iris = {target.partition("#")[0] for target in seen}
        found = set()
        for row in self._projection.ask(lambda graph: graph.select(question)):
            record, name = _iri(row["record"]), _iri(row["property"]).rpartition("#")[2]
            if record not in own_iris and predicate in {None, name} and self._is_told(name):
                found.add(record)
        return found

    def save(self, changes: Sequence[Change], *, who: str, what_for: str) -> tuple[Revision, ...]:
        """Keep records, all or nothing; give the newest revision of each.

        A record already kept just so gets no new revision. Raises StaleRevision (with both versions),
        RevisionRequired, Gone, NotFound, InvalidRecord, StorageFailed, and NotAllowed for the public.
        """
        self._workshop_only(who)
        saved = saving.save(self._ledger, changes, who=who, what_for=what_for)
        self._projection.follow()
        return saved

    def delete(self, iri: str, *, started_from: int, who: str, why: str) -> Revision:
        """Take a record out: its history stays, its IRI says what happened. Raises as `save`."""
        self._workshop_only(who)
        if not why.strip():
            raise WrongUse(message=_("Say why the record is taken out; its address answers with the reason."))
        tombstone = saving.delete(self._ledger, iri, started_from=started_from, who=who, why=why)
        self._projection.follow()
        return tombstone

    def history(self, iri: str) -> tuple[Revision, ...]:
        """Give all revisions of a record, the oldest first; also of one taken out. Raises NotFound."""
        self._known(iri)
        revisions = self._ledger.history(iri)
        if self.viewer is Viewer.WORKSHOP:
            return revisions
        return tuple(self._told(rev) for rev in revisions if rev.tombstone or self._kept_or_none(rev))

    def versions(self, iri: str) -> Iterator[tuple[Revision, Record | None]]:
        """Give all revisions as `history`, each with the record as it was (None: taken out)."""
        for revision in self.history(iri):
            yield revision, None if revision.tombstone else self._kept(revision).record

    def at_revision(self, iri: str, number: int) -> Kept:
        """Give a record as it was. Raises NotFound, and Gone where that revision took it out."""
        self._known(iri)
        revision = next((rev for rev in self._ledger.history(iri) if rev.number == number), None)
        if revision is None:
            raise NotFound(message=_("{record} has no revision {number}.").format(record=iri, number=number))
        if revision.tombstone:
            raise saving.gone(self._told(revision))
        return self._kept(revision)

    def difference(self, iri: str, a: int, b: int) -> tuple[str, ...]:
        """Say in words what changed from revision `a` to revision `b`. Raises as `at_revision`."""
        older, newer = self.at_revision(iri, a).record, self.at_revision(iri, b).record
        return differences.differences(older, newer, language())

    def verify(self) -> tuple[Fault, ...]:
        """Hold the ledger against its chain, and graph, search and facets against the ledger."""
        self._workshop_only()
        return verify.verify(self._ledger, self._projection)

    def rebuild(self) -> int:
        """Make the graph, search and facets anew from the ledger; give the number of records."""
        self._workshop_only()
        with self._ledger.connections.writing() as connection:
            faults = Reindexing(connection, connection).run()
            raise_faults(faults, _("All was left as it was: not every record can be read."))
            standing.forget(connection)
        return self._projection.rebuild()

    def _workshop_only(self, who: str = "the workshop") -> None:
        if self.viewer is not Viewer.WORKSHOP:
            raise NotAllowed(
                message=_("The public may look, but not change the catalogue or look behind it.")
            )
        if not who.strip():
            raise WrongUse(message=_("Say who saves this; every revision names its author."))

    def _sees(self, head: Head) -> bool:
        return head.public or self._audience is Audience.WORKSHOP

    def _may_know_of(self, iri: str) -> bool:
        return self._audience is Audience.WORKSHOP or self.has(iri)

    def _is_told(self, name: str) -> bool:
        return self._audience is Audience.WORKSHOP or name not in private_fields()

    def _known(self, iri: str) -> Head:
        head = self._ledger.head(iri)
        if head is None or not self._sees(head):
            with self._ledger.connections.reading() as connection:
                raise resolving.not_found(connection, iri, self._audience)
        return head

    def _living(self, iri: str) -> Head:
        head = self._known(iri)
        if head.revision.tombstone:
            raise saving.gone(self._told(head.revision))
        return head

    def _told(self, revision: Revision) -> Revision:
        """Tell the public neither who saved nor the hashes, by which a private field could be guessed at."""
        if self.viewer is Viewer.WORKSHOP:
            return revision
        why = self._withheld(self.sequence).removed_from(revision.what_for) if revision.tombstone else ""
        return replace(revision, who="", what_for=why, sha256="", previous="")

    def _kept(self, revision: Revision) -> Kept:
        kept = self._kept_or_none(revision)
        if kept is None:
            with self._ledger.connections.reading() as connection:
                raise resolving.not_found(connection, revision.iri, self._audience)
        return kept

    def _read_withheld(self, _sequence: int) -> Withheld:
        with self._ledger.connections.reading() as connection:
            return Withheld(publicity.withheld_names(connection))

    def _redact(self, sequence: int, newest: int) -> Record | None:
        """Give what the public may see of one entry; anything saved since may have changed that."""
        record = self._ledger.record(sequence)
        if not public_by_itself(record):
            return None
        with self._ledger.connections.reading() as connection:
            return Redaction(publicity.may_see(connection), self._withheld(newest)).of(record)

    def _kept_or_none(self, revision: Revision) -> Kept | None:
        if revision.tombstone:
            return None
        if self.viewer is Viewer.WORKSHOP:
            record: Record | None = self._ledger.record(revision.sequence)
        else:
            record = self._redacted(revision.sequence, self.sequence)
        told = self._told(revision)
        return Kept(record, told.number, told.when, told.who) if record else None


def _iri(term: object) -> str:
    return term.value if isinstance(term, ox.NamedNode) else ""


def _hit(kept: Kept, words: str) -> Hit:
    record = kept.record
    return Hit(
        iri=record.id,
        kind=record.kind,
        title=record.display_title,
        snippet=snippet(record, words),
        workshop_number=record.workshop_number,
        revision=kept.revision,
    )
