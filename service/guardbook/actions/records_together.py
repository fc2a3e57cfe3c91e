"""What must hold among records: what they name is there, and what leaves a host was put there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from guardbook.binding.replay import NEEDS_NO_PLACING
from guardbook.catalogue.access import Access
from guardbook.catalogue.references import Named, references_of
from guardbook.errors import Fault
from guardbook.records.base import Record, parts_of
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation
from guardbook.wording import _, pgettext


class RecordsTogether:
    """Records that are to be saved in one go, seen with what the catalogue already has."""

    def __init__(self, access: Access, records: Sequence[Record]) -> None:
        self._access = access
        self._records = records
        self._new = {record.id: record for record in records}
        self._parts: dict[str, frozenset[str] | None] = {}
        self._placed: dict[str, set[str]] = defaultdict(set)
        for record in records:
            if isinstance(record, Placing):
                self._placed[record.piece].add(record.host)

    def faults(self) -> Iterator[Fault]:
        """Give every fault among them."""
        for record in self._records:
            yield from self._missing_references(record)
            yield from self._parts_still_named(record)
            if isinstance(record, Separation):
                yield from self._never_placed(record)

    def _missing_references(self, record: Record) -> Iterator[Fault]:
        for named in references_of(record):
            parts = self._parts_of(named.target)
            if parts is None:
                expected = _("a record that is in the catalogue or in the same save")
                mend = _("Save that record too, or correct the identifier.")
                yield _missing(record, named, expected, mend)
            elif named.part and named.part not in parts:
                some = ", ".join(sorted(parts)) or pgettext("parts", "none")
                mend = _("Its parts are: {parts}.").format(parts=some)
                yield _missing(record, named, _("a part that the record has"), mend)

    def _parts_of(self, iri: str) -> frozenset[str] | None:
        """Give the names of a record's parts, or None if there is no such record."""
        if iri not in self._parts:
            record = self._new.get(iri) or self._kept(iri)
            self._parts[iri] = frozenset(part.id for part in parts_of(record)) if record else None
        return self._parts[iri]

    def _kept(self, iri: str) -> Record | None:
        return self._access.record(iri).record if self._access.has(iri) else None

    def _parts_still_named(self, record: Record) -> Iterator[Fault]:
        before = self._kept(record.id)
        after = {part.id for part in parts_of(record)}
        for part in [part.id for part in parts_of(before) if part.id not in after] if before else ():
            for iri in self._access.referring([record.id + part]):
                if iri not in self._new:
                    yield Fault(
                        where=f"{record.short} {part}",
                        found=_("no such part any more"),
                        expected=_("the part that {record} names").format(record=iri),
                        mend=_("Keep it, or change that record in the same save."),
                    )

    def _never_placed(self, separation: Separation) -> Iterator[Fault]:
        if separation.host is None or separation.separation_kind in NEEDS_NO_PLACING:
            return
        if separation.host not in self._hosts_of(separation.piece):
            yield Fault(
                where=f"{separation.short} host",
                found=separation.host,
                expected=_("a host that {piece} was placed in").format(piece=separation.piece),
                mend=_(
                    "Add the placing first (what is seen is enough), or say that the piece was found loose."
                ),
            )

    def _hosts_of(self, piece: str) -> set[str]:
        """Give the hosts that a piece was placed in, by this save or before."""
        named = self._access.linked(piece, "piece") if self._access.has(piece) else ()
        kept = (self._access.record(iri).record for iri in named if iri not in self._new)
        return self._placed[piece] | {record.host for record in kept if isinstance(record, Placing)}


def _missing(record: Record, named: Named, expected: str, mend: str) -> Fault:
    found = named.target + named.part
    return Fault(where=f"{record.short} {named.where}", found=found, expected=expected, mend=mend)
