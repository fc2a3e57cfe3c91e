"""Choose the volume that a piece is to be registered with."""

from __future__ import annotations

from dataclasses import dataclass

from guardbook import settings
from guardbook.catalogue.access import Access, Viewer
from guardbook.errors import NotAllowed
from guardbook.records.base import Record
from guardbook.wording import _

_MOST = 20


@dataclass(frozen=True, kw_only=True)
class Volume:
    """A volume to choose: `host/IDENTIFIER`, what it is called, its shelfmark and workshop number."""

    short: str
    title: str
    shelfmark: str
    number: str


@dataclass(frozen=True, kw_only=True)
class Volumes:
    """The volumes found, and how many there are in all."""

    volumes: tuple[Volume, ...]
    total: int


def choose_volume(access: Access, words: str = "") -> Volumes:
    """Give the volumes that some words find, or the newest. Raises NotAllowed for the public."""
    if access.viewer is not Viewer.WORKSHOP:
        raise NotAllowed(message=_("Only the machine that the catalogue runs on may register pieces."))
    if words.strip():
        found = access.find(words, kind="host", limit=_MOST)
        return _volumes(access, [hit.iri for hit in found.hits], found.total)
    iris = list(access.iris("host"))
    return _volumes(access, iris[: -_MOST - 1 : -1], len(iris))


def _volumes(access: Access, iris: list[str], total: int) -> Volumes:
    return Volumes(volumes=tuple(_volume(access.record(iri).record) for iri in iris), total=total)


def _volume(record: Record) -> Volume:
    return Volume(
        short=record.id.removeprefix(settings.current().base),
        title=record.display_title,
        shelfmark=getattr(record, "shelfmark", None) or "",
        number=record.workshop_number or "",
    )
