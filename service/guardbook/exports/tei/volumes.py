"""What only a volume has: gatherings, a binding, and the pieces that are or were in it."""

from __future__ import annotations

from itertools import groupby
from xml.etree.ElementTree import Element

from guardbook.exports.tei.elements import Child, datable, element, joined, some, surely_datable
from guardbook.exports.tei.physical import measure
from guardbook.exports.tei.telling import Teller
from guardbook.records.host import HostVolume
from guardbook.records.placing import Placing
from guardbook.records.separation import Separation


def collation(teller: Teller, record: HostVolume) -> Element | None:
    """Give the gatherings, as a list."""
    return some("collation", some("list", *(teller.part(one) for one in record.gatherings)))


def bound(teller: Teller, record: HostVolume) -> Element | None:
    """Give the binding: its kind, its date and reason, its spine, its panels and sewing stations."""
    date = record.binding_date
    told: list[Child] = [
        some("term", teller.term("binding-kind", record.binding_kind)),
        element("date", date, **datable(date)) if date else None,
        f"({record.binding_date_reason})" if record.binding_date_reason else None,
        measure("spine-width", record.spine_width),
        None if record.panels is None else f"{teller.label(HostVolume, 'panels')}: {record.panels}",
        some("list", *(teller.part(one) for one in record.stations), type="stations"),
    ]
    return some("bindingDesc", some("binding", some("p", *joined(told, "; ")), **surely_datable(date)))


def bound_in(teller: Teller) -> Element | None:
    """Give every piece that is or was in the volume, with what put it there and took it out."""
    found = [teller.around.record(iri) for iri in teller.around.linked(teller.record.id, "host")]
    events = [event for event in found if isinstance(event, (Placing, Separation))]
    events.sort(key=lambda event: (event.piece, event.when is None, event.when or "", event.kind, event.id))
    items = [
        element("item", teller.reference(piece), element("list", *(_told(teller, one) for one in of_piece)))
        for piece, of_piece in groupby(events, key=lambda event: event.piece)
    ]
    return some("accMat", some("list", *items, type="pieces"))


def _told(teller: Teller, event: Placing | Separation) -> Element:
    own = Teller(event, teller.around)
    about = own.glossed(event, without=("piece", "host", "positions"))
    return element("item", about, element("ref", event.identifier, target=event.id), n=event.kind)
