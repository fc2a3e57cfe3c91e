"""Where it came from and what happened to it: `history`, and the keeping of it, `custodialHist`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element

from guardbook.exports.tei.elements import Child, datable, element, joined, some, surely_datable
from guardbook.exports.tei.telling import Teller
from guardbook.records.alteration import Alteration
from guardbook.records.base import Record
from guardbook.records.event import Event
from guardbook.records.host import Stage

# by which field each kind of event names what it happened to
NAMING = ("piece", "host", "object", "target")


def history(
    teller: Teller, origin: Element | None, events: Sequence[Event], stages: Iterable[Stage] = ()
) -> Element | None:
    """Give where it was made, its stages, and how it came into and out of volumes and hands."""
    placed = [event for event in events if not isinstance(event, Alteration)]
    return some(
        "history",
        origin,
        *(_stage(teller, stage) for stage in stages),
        *(_event("provenance", teller, event) for event in placed),
    )


def origin(
    date: str | None,
    date_reason: str | None,
    place: str | None,
    place_reason: str | None = None,
) -> Element | None:
    """Give when and where it was made, each with its reason."""
    told: list[Child] = [
        some("origDate", date, **datable(date)),
        _in_brackets(date_reason),
        some("origPlace", place),
        _in_brackets(place_reason),
    ]
    return some("origin", *joined(told, " "), **surely_datable(date))


def _in_brackets(reason: str | None) -> str | None:
    return f"({reason})" if reason else None


def keeping(teller: Teller, events: Sequence[Event]) -> Element | None:
    """Give what was done to it while it was kept."""
    done = [event for event in events if isinstance(event, Alteration)]
    return some("custodialHist", *(_event("custEvent", teller, event) for event in done))


def _event(name: str, teller: Teller, event: Event) -> Element:
    """Tell an event, without naming again what is being described."""
    own = {field for field in NAMING if getattr(event, field, None) == teller.record.id}
    said = Teller(event, teller.around).glossed(event, without=own)
    address = element("ref", event.identifier, target=event.id)
    return element(name, said, address, type=event.kind, **surely_datable(event.when))


def _stage(teller: Teller, stage: Stage) -> Element:
    when = surely_datable(stage.when)
    return element("provenance", teller.glossed(stage), type="stage", n=stage.number, **when)


def events_of(teller: Teller) -> list[Event]:
    """Give the events that happened to a piece or volume, those without a date last."""
    iri = teller.record.id
    found: dict[str, Record | None] = {
        other: teller.around.record(other) for field in NAMING for other in teller.around.linked(iri, field)
    }
    events = [record for record in found.values() if isinstance(record, Event)]
    return sorted(events, key=lambda event: (event.when is None, event.when or "", event.kind, event.id))
