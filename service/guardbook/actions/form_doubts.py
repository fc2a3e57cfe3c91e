"""What a form asks about before it saves: records that may be right, but are strange together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from guardbook.actions.event_dossier import dossier_of_host
from guardbook.binding.contradictions import Contradiction
from guardbook.binding.dossier import Dossier, host_of
from guardbook.binding.pieces import pieces_of
from guardbook.catalogue.access import Access
from guardbook.errors import Fault
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.fragment import Feature, Fragment
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.wording import _, decimal

# nobody measures finer along the edge of a strip
_TOLERANCE_MM = Decimal(1)
_OF_PLACES = frozenset({"beyond-the-plane", "overlap-on-one-layer"})


def doubts_among(access: Access, records: Sequence[Record]) -> Iterator[Fault]:
    """Give what the person is asked to confirm: traces beside their piece, and what comes to contradict."""
    for record in records:
        if isinstance(record, Fragment):
            yield from _beside_the_piece(record)
    for host in sorted(set(_hosts(records))):
        yield from _contradicting(access, host, records)


def _beside_the_piece(piece: Fragment) -> Iterator[Fault]:
    """Find traces past the edges of a piece that was measured, each side once."""
    for field, size, across in (("height", piece.height, False), ("width", piece.width, True)):
        places = [at for trace in piece.features for at in _places(trace, across=across)]
        farthest = max(places, default=Decimal(0))
        if size is None or farthest <= size + _TOLERANCE_MM:
            continue
        told = _("a trace {at} mm from the left edge of it") if across else _("a trace {at} mm from its tail")
        yield Fault(
            where=f"{piece.short} {field}",
            found=told.format(at=decimal(format(farthest, "f"))),
            expected=_("all traces within the {size} mm of the piece").format(
                size=decimal(format(size, "f"))
            ),
            mend=_("Correct the size or the place of the trace, or say that you are sure."),
            doubt=True,
        )


def _places(trace: Feature, *, across: bool) -> Iterator[Decimal]:
    found = (trace.x, trace.to_x) if across else (trace.y, trace.to_y)
    yield from (at for at in found if at is not None)


def _hosts(records: Iterable[Record]) -> Iterator[str]:
    for record in records:
        if isinstance(record, Event) and (host := host_of(record)):
            yield host
        elif isinstance(record, HostVolume):
            yield record.id


def _contradicting(access: Access, host: str, records: Sequence[Record]) -> Iterator[Fault]:
    kept = access.record(host).record if access.has(host) else None
    before = dossier_of_host(access, kept) if isinstance(kept, HostVolume) else Dossier.of(())
    new = {record.id: record for record in records}
    after = Dossier.of([*(one for one in before.records.values() if one.id not in new), *new.values()])
    known = {_key(one) for one in pieces_of(before, host).contradictions} if kept else set()
    for clash in pieces_of(after, host).contradictions:
        about = next((new[iri] for iri in clash.events if iri in new), None)
        if about is not None and _key(clash) not in known:
            yield Fault(
                where=_where(about, clash),
                found=clash.found.removesuffix("."),
                expected=_("records that can all be true"),
                mend=clash.mend,
                doubt=True,
            )


def _key(clash: Contradiction) -> tuple[str, tuple[str, ...]]:
    return clash.kind, clash.events


def _where(record: Record, clash: Contradiction) -> str:
    if isinstance(record, Placing) and record.positions and clash.kind in _OF_PLACES:
        return f"{record.short} {record.positions[0].id} x"
    return f"{record.short} when"
