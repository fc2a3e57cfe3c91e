"""What a packet does not hold, so that nobody who opens it takes it for the whole."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from guardbook.catalogue.access import Access, Viewer
from guardbook.records.event import Event

# the same whether there is such a thing or not: even that would tell of it
WITHHELD = (
    "what only the workshop may see: records that are not public, people who have not agreed to be named, "
    "and fields such as box locations, valuations and private notes"
)


def left_out_of_packet(access: Access, iris: Collection[str]) -> Iterator[str]:
    """Say what is never in a packet for the public, and which pieces of its volumes are not in this one."""
    if access.viewer is Viewer.PUBLIC:
        yield WITHHELD
    for host in (iri for iri in iris if "/host/" in iri):
        events = (access.record(iri).record for iri in access.linked(host, "host"))
        pieces = {getattr(event, "piece", None) for event in events if isinstance(event, Event)}
        if missing := sorted(iri for iri in pieces - set(iris) - {None} if iri and access.has(iri)):
            volume = access.record(host).record
            told = f"other pieces of {volume.short} ({volume.display_title}), with what happened to them"
            yield f"{told}: {', '.join(access.record(iri).record.short for iri in missing)}"
